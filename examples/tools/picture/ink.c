/* SPDX-License-Identifier: MIT */
#include "ink.h"

#include <math.h>

void ink_use(cairo_t *cr, ink color)
{
    cairo_set_source_rgb(cr, color.red, color.green, color.blue);
}

void ink_write(cairo_t *cr, double x, double y, double size, bool bold, ink color, const char *text)
{
    cairo_select_font_face(cr, "sans-serif", CAIRO_FONT_SLANT_NORMAL,
        bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cr, size);
    ink_use(cr, color);
    cairo_move_to(cr, x, y);
    cairo_show_text(cr, text);
}

double ink_width(cairo_t *cr, double size, bool bold, const char *text)
{
    cairo_text_extents_t extents;
    cairo_select_font_face(cr, "sans-serif", CAIRO_FONT_SLANT_NORMAL,
        bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cr, size);
    cairo_text_extents(cr, text, &extents);
    return extents.x_advance;
}

void ink_image(cairo_t *cr, cairo_surface_t *image, double x, double y, double fine)
{
    cairo_surface_mark_dirty(image);
    cairo_save(cr);
    cairo_translate(cr, x, y);
    cairo_scale(cr, 1.0 / fine, 1.0 / fine);
    cairo_set_source_surface(cr, image, 0.0, 0.0);
    cairo_paint(cr);
    cairo_restore(cr);
    cairo_surface_destroy(image);
}

/* Slanting lines over what is clipped, the same all over the page. */
void ink_hatch(cairo_t *cr, ink color)
{
    double x0, y0, x1, y1;
    cairo_clip_extents(cr, &x0, &y0, &x1, &y1);
    ink_use(cr, color);
    cairo_set_line_width(cr, 1.6);
    for (double c = floor((x0 + y0) / 7.0) * 7.0; c < x1 + y1; c += 7.0) {
        cairo_move_to(cr, c - y0, y0);
        cairo_line_to(cr, c - y1, y1);
    }
    cairo_stroke(cr);
}
