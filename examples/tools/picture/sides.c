/* SPDX-License-Identifier: MIT
 * Which sides of the part are seen. Of each pair of opposite sides it is the one that is turned to the viewer; of two
 * at right angles to the view, the one by which the part is described. */
#include "sides.h"

#include "ink.h"
#include "project.h"

#include <math.h>

static const double stroke_length = 30.0, text_size = 13.0;

static const char *const names[3][2] = {{"left", "right"}, {"front", "back"}, {"top", "base"}};
static const double named_way[3] = {-1.0, -1.0, 1.0}; /* of the first of each pair */

/* A side's direction: to the right, up, and to the viewer. */
static void view_of(const drawing *picture, int axis, double way, double out[3])
{
    double from[3], to[3], point[3] = {0.0, 0.0, 0.0};
    picture_project(picture, point, from);
    point[axis] = way;
    picture_project(picture, point, to);
    for (int k = 0; k < 3; k++)
        out[k] = to[k] - from[k];
}

/* Of each pair, the side to show. */
static const char *choose(const drawing *picture, int axis, double out[3])
{
    view_of(picture, axis, named_way[axis], out);
    int other = out[2] < -0.01;
    if (other)
        view_of(picture, axis, -named_way[axis], out);
    return names[axis][other];
}

static void write_name(cairo_t *cr, double x, double y, const double way[2], const char *name)
{
    double length = hypot(way[0], way[1]), wide = ink_width(cr, text_size, true, name);
    double ux = length > 0.0 ? way[0] / length : 0.0, uy = length > 0.0 ? way[1] / length : 1.0;
    ink_write(cr, x + 7.0 * ux + 0.5 * wide * (ux - 1.0),
        y + 7.0 * uy + 0.5 * text_size * (uy + 0.7), text_size, true, text_ink, name);
}

void sides_draw(cairo_t *cr, const drawing *picture, double x, double y)
{
    double v[3][3], free_way[2] = {0.0, 0.0};
    const char *name[3];
    for (int axis = 0; axis < 3; axis++) {
        name[axis] = choose(picture, axis, v[axis]);
        free_way[0] -= v[axis][0];
        free_way[1] += v[axis][1];
    }
    for (int axis = 0; axis < 3; axis++) {
        double ex = x + stroke_length * v[axis][0], ey = y - stroke_length * v[axis][1];
        const double way[2] = {v[axis][0], -v[axis][1]};
        ink_use(cr, soft_ink);
        cairo_set_line_width(cr, 2.0);
        cairo_move_to(cr, x, y);
        cairo_line_to(cr, ex, ey);
        cairo_stroke(cr);
        cairo_arc(cr, ex, ey, 2.5, 0.0, 7.0);
        cairo_fill(cr);
        write_name(cr, ex, ey, hypot(way[0], way[1]) > 0.2 ? way : free_way, name[axis]);
    }
}
