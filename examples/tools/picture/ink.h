/* SPDX-License-Identifier: MIT
 * Colours, text and marks, for the parts of the picture. */
#ifndef EXAMPLE_PICTURE_INK_H
#define EXAMPLE_PICTURE_INK_H

#include "picture.h"

#include <cairo.h>

typedef struct ink {
    double red, green, blue;
} ink;

/* Dark liquid, light wall, orange air with hatching: they also differ in grey. */
static const ink paper = {1.0, 1.0, 1.0}, text_ink = {0.13, 0.14, 0.17},
                 soft_ink = {0.42, 0.44, 0.48}, wall_ink = {0.90, 0.85, 0.76},
                 line_ink = {0.25, 0.22, 0.20}, liquid_ink = {0.13, 0.20, 0.36},
                 air_ink = {1.0, 0.72, 0.12}, hatch_ink = {0.50, 0.27, 0.0},
                 drill_ink = {0.78, 0.05, 0.37}, inlet_ink = {0.0, 0.42, 0.62},
                 free_ink = {0.93, 0.96, 0.98};

/* One of the two views: where its millimetres are on the page. */
typedef struct frame {
    double x, y;      /* page place of (left, top) */
    double left, top; /* mm */
    double scale;     /* page units per mm */
} frame;

/* A mark on a page. */
typedef struct mark_place {
    double x, y;   /* on the skin */
    double dx, dy; /* outward on the page, at most unit */
    double label_x, label_y;
    bool behind;
} mark_place;

static const double arrow_length = 44.0, label_radius = 13.0;

void ink_use(cairo_t *cr, ink color);
void ink_write(cairo_t *cr, double x, double y, double size, bool bold, ink color,
    const char *text);
double ink_width(cairo_t *cr, double size, bool bold, const char *text);
/* Where a place of the part is on the page. */
void frame_place(const frame *panel, double across, double height, double *x, double *y);
/* Slanting lines over what is clipped, the same all over the page. */
void ink_hatch(cairo_t *cr, ink color);

/* The marks of a view: all, those near the cut, or only the one called label. */
void marks_draw(cairo_t *cr, const drawing *picture, const frame *panel, bool cut_only,
    const char *label);
void marks_sign(cairo_t *cr, enum mark_kind kind, const mark_place *m);
void marks_label(cairo_t *cr, double x, double y, const char *label, ink color, bool behind);
void marks_arrow(cairo_t *cr, double fx, double fy, double tx, double ty, bool solid, ink color);
ink marks_color(enum mark_kind kind);

#endif
