/* SPDX-License-Identifier: MIT
 * Openings and bores on the page. */
#ifndef TOOLS_PICTURE_MARKS_H
#define TOOLS_PICTURE_MARKS_H

#include "drawing.h"
#include "frame.h"
#include "ink.h"

#include <stdbool.h>

/* A mark on a page. */
typedef struct mark_place {
    double x, y;   /* on the skin */
    double dx, dy; /* outward on the page, at most unit */
    double label_x, label_y;
    bool behind;
} mark_place;

static const double arrow_length = 44.0, label_radius = 13.0;

/* Where a mark is, and the way out of the part there, unit, as the picture has them: right, up, towards the viewer,
 * counted from the cut. */
void marks_project(const drawing *picture, const picture_mark *mark, double at[3], double way[3]);

/* The marks of a view: all, those near the cut, or only the one called label. */
bool marks_near_cut(const drawing *picture, const picture_mark *mark);
void marks_draw(cairo_t *cr, const drawing *picture, const frame *panel, bool cut_only,
    const char *label);
void marks_sign(cairo_t *cr, enum mark_kind kind, const mark_place *m);
void marks_label(cairo_t *cr, double x, double y, const char *label, ink color, bool behind);
void marks_arrow(cairo_t *cr, double fx, double fy, double tx, double ty, bool solid, ink color);
ink marks_color(enum mark_kind kind);

#endif
