/* SPDX-License-Identifier: MIT
 * Colours and text. */
#ifndef TOOLS_PICTURE_INK_H
#define TOOLS_PICTURE_INK_H

#include <cairo.h>
#include <stdbool.h>

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

void ink_use(cairo_t *cr, ink color);
void ink_write(cairo_t *cr, double x, double y, double size, bool bold, ink color,
    const char *text);
double ink_width(cairo_t *cr, double size, bool bold, const char *text);
/* An image of so many pixels a page unit, with its corner there; it is destroyed. */
void ink_image(cairo_t *cr, cairo_surface_t *image, double x, double y, double fine);
/* Slanting lines over what is clipped, the same all over the page. */
void ink_hatch(cairo_t *cr, ink color);

#endif
