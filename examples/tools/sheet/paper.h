/* SPDX-License-Identifier: MIT
 * Pages that fill from the top down. All lengths are mm on paper. */
#ifndef TOOLS_SHEET_PAPER_H
#define TOOLS_SHEET_PAPER_H

#include <cairo.h>
#include <stdbool.h>

typedef struct pages {
    cairo_t *cr;
    const char *title; /* at the foot of each page */
    double width, height, y;
    double narrow_to,
        narrow; /* down to this y the lines end that much earlier: a picture stands there */
    int page;
    bool dry; /* nothing is drawn: it is seen how far it reaches */
} pages;

enum { PAPER_MARGIN = 16 };

/* Goes to the next page unless there is so much room left on this one. */
void paper_need(pages *p, double height);
void paper_foot(pages *p);
void paper_write(pages *p, double x, double size, bool bold, const char *text);
/* Goes to the next page if the text does not fit on this one whole, unless it is longer than that. */
void paper_keep(pages *p, double x, double size, bool bold, const char *text);
/* Broken into lines at spaces; y moves down. */
void paper_wrap(pages *p, double x, double size, bool bold, const char *text);

#endif
