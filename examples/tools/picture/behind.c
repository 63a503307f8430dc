/* SPDX-License-Identifier: MIT */
#include "behind.h"

#include "ink.h"

#include <math.h>
#include <string.h>

enum { DOTS = 11, LINES = 13, WIDE = 34, TALL = 18 };

static bool on_dot(int x, int y)
{
    int dx = x % DOTS - DOTS / 2, dy = y % DOTS - DOTS / 2;
    return dx * dx + dy * dy <= 9;
}

static bool on_cross(int x, int y)
{
    return (x + y) % LINES < 3 || (x - y + 1000 * LINES) % LINES < 3;
}

void behind_color(enum skin_kind kind, int x, int y, float color[3])
{
    static const float resin[3] = {214.0f, 232.0f, 246.0f}, dark[3] = {92.0f, 51.0f, 33.0f},
                       film[3] = {181.0f, 179.0f, 127.0f}, pale[3] = {198.0f, 233.0f, 246.0f},
                       cross[3] = {63.0f, 18.0f, 163.0f}, unknown[3] = {148.0f, 154.0f, 154.0f};
    const float *c = resin;
    if (kind == SKIN_BACKED)
        c = dark;
    else if (kind == SKIN_FILMED)
        c = on_dot(x, y) ? dark : film;
    else if (kind == SKIN_BARE)
        c = on_cross(x, y) ? cross : pale;
    else if (kind == SKIN_UNKNOWN)
        c = unknown;
    memcpy(color, c, 3 * sizeof *color);
}

void behind_swatch(cairo_t *cr, double x, double y, enum skin_kind kind)
{
    cairo_surface_t *image = cairo_image_surface_create(CAIRO_FORMAT_RGB24, BEHIND_FINE * WIDE,
        BEHIND_FINE * TALL);
    unsigned char *pixels = cairo_image_surface_get_data(image);
    for (int j = 0; pixels && j < BEHIND_FINE * TALL; j++)
        for (int i = 0; i < BEHIND_FINE * WIDE; i++) {
            float color[3];
            uint32_t pixel = 0;
            behind_color(kind, i, j, color);
            for (int k = 0; k < 3; k++)
                pixel |= (uint32_t)lroundf(color[k]) << 8 * k;
            memcpy(pixels + j * cairo_image_surface_get_stride(image) + 4 * i, &pixel, 4);
        }
    ink_image(cr, image, x, y, BEHIND_FINE);
    cairo_rectangle(cr, x, y, WIDE, TALL);
    ink_use(cr, line_ink);
    cairo_set_line_width(cr, 1.2);
    cairo_stroke(cr);
}
