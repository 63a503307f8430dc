/* SPDX-License-Identifier: MIT
 * Openings and bores to drill: arrows, drills and labels. */
#include "marks.h"

#include "project.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

ink marks_color(enum mark_kind kind)
{
    return kind == MARK_DRILL ? drill_ink : kind == MARK_SEALED ? soft_ink : inlet_ink;
}

void marks_project(const drawing *picture, const picture_mark *mark, double at[3], double way[3])
{
    double outer[3], end[3];
    for (int k = 0; k < 3; k++)
        outer[k] = mark->point_mm[k] + mark->outward[k];
    picture_project(picture, mark->point_mm, at);
    picture_project(picture, outer, end);
    for (int k = 0; k < 3; k++)
        way[k] = end[k] - at[k];
    at[2] -= picture_cut_nearness(picture, at[0]);
}

static mark_place place_mark(const drawing *picture, const frame *panel, const picture_mark *mark)
{
    mark_place m;
    double p[3], way[3];
    marks_project(picture, mark, p, way);
    frame_place(panel, p[0], p[1], &m.x, &m.y);
    m.dx = way[0];
    m.dy = -way[1];
    m.behind = way[2] < -0.2;
    double flat = hypot(m.dx, m.dy), reach = arrow_length * flat + label_radius + 3.0;
    double ux = flat > 0.05 ? m.dx / flat : 0.7, uy = flat > 0.05 ? m.dy / flat : -0.7;
    m.label_x = m.x + reach * ux;
    m.label_y = m.y + reach * uy;
    return m;
}

/* Pushes labels apart that would cover one another. */
static void spread_labels(mark_place *m, size_t count)
{
    const double least = 2.0 * label_radius + 4.0;
    for (int round = 0; round < 200; round++)
        for (size_t i = 0; i < count; i++)
            for (size_t j = 0; j < i; j++) {
                double x = m[i].label_x - m[j].label_x, y = m[i].label_y - m[j].label_y;
                double apart = hypot(x, y);
                if (apart >= least)
                    continue;
                if (apart < 0.01) {
                    x = 1.0;
                    y = 0.0;
                    apart = 1.0;
                }
                double push = 0.25 * (least - fmin(apart, least)) / apart;
                m[i].label_x += push * x;
                m[i].label_y += push * y;
                m[j].label_x -= push * x;
                m[j].label_y -= push * y;
            }
}

/* A drill: a fluted shaft with its point on the skin; tail at (tx, ty). */
static void draw_drill(cairo_t *cr, const mark_place *m, double tx, double ty)
{
    double length = hypot(tx - m->x, ty - m->y);
    cairo_save(cr);
    cairo_translate(cr, m->x, m->y);
    cairo_rotate(cr, atan2(ty - m->y, tx - m->x));
    cairo_move_to(cr, 0.0, 0.0);
    cairo_line_to(cr, fmin(7.0, length), -4.5);
    cairo_line_to(cr, length, -4.5);
    cairo_line_to(cr, length, 4.5);
    cairo_line_to(cr, fmin(7.0, length), 4.5);
    cairo_close_path(cr);
    ink_use(cr, paper);
    cairo_set_line_width(cr, 5.0);
    cairo_stroke_preserve(cr);
    ink_use(cr, drill_ink);
    cairo_fill(cr);
    ink_use(cr, paper);
    cairo_set_line_width(cr, 1.8);
    for (double s = 10.0; s + 6.0 < length; s += 8.0) {
        cairo_move_to(cr, s, 4.0);
        cairo_line_to(cr, s + 6.0, -4.0);
    }
    cairo_stroke(cr);
    cairo_restore(cr);
}

/* An arrow from (fx, fy) to (tx, ty), solid or hollow. */
void marks_arrow(cairo_t *cr, double fx, double fy, double tx, double ty, bool solid, ink color)
{
    double length = hypot(tx - fx, ty - fy), head = fmin(14.0, 0.6 * length);
    cairo_save(cr);
    cairo_translate(cr, fx, fy);
    cairo_rotate(cr, atan2(ty - fy, tx - fx));
    cairo_move_to(cr, 0.0, -3.5);
    cairo_line_to(cr, length - head, -3.5);
    cairo_line_to(cr, length - head, -9.0);
    cairo_line_to(cr, length, 0.0);
    cairo_line_to(cr, length - head, 9.0);
    cairo_line_to(cr, length - head, 3.5);
    cairo_line_to(cr, 0.0, 3.5);
    cairo_close_path(cr);
    ink_use(cr, paper);
    cairo_set_line_width(cr, 6.0);
    cairo_stroke_preserve(cr);
    ink_use(cr, solid ? color : paper);
    cairo_fill_preserve(cr);
    ink_use(cr, color);
    cairo_set_line_width(cr, 2.0);
    cairo_stroke(cr);
    cairo_restore(cr);
}

static void draw_cross(cairo_t *cr, double x, double y)
{
    for (int pass = 0; pass < 2; pass++) {
        ink_use(cr, pass ? soft_ink : paper);
        cairo_set_line_width(cr, pass ? 3.0 : 7.0);
        cairo_move_to(cr, x - 7.0, y - 7.0);
        cairo_line_to(cr, x + 7.0, y + 7.0);
        cairo_move_to(cr, x + 7.0, y - 7.0);
        cairo_line_to(cr, x - 7.0, y + 7.0);
        cairo_stroke(cr);
    }
}

/* Seen end on: a ring round the place, dark inside where a hole is to be, with a dot where liquid passes. */
static void draw_ring(cairo_t *cr, double x, double y, enum mark_kind kind)
{
    ink color = marks_color(kind);
    cairo_arc(cr, x, y, 8.0, 0.0, 7.0);
    ink_use(cr, paper);
    cairo_set_line_width(cr, 6.0);
    cairo_stroke_preserve(cr);
    ink_use(cr, text_ink);
    if (kind == MARK_DRILL)
        cairo_fill_preserve(cr);
    ink_use(cr, color);
    cairo_set_line_width(cr, 2.5);
    cairo_stroke(cr);
    if (kind == MARK_INLET || kind == MARK_OUTLET) {
        cairo_arc(cr, x, y, 3.0, 0.0, 7.0);
        cairo_fill(cr);
    }
}

void marks_sign(cairo_t *cr, enum mark_kind kind, const mark_place *m)
{
    double tx = m->x + arrow_length * m->dx, ty = m->y + arrow_length * m->dy;
    ink color = marks_color(kind);
    if (kind == MARK_SEALED)
        draw_cross(cr, m->x, m->y);
    else if (hypot(m->dx, m->dy) < 0.35)
        draw_ring(cr, m->x, m->y, kind);
    else if (kind == MARK_DRILL)
        draw_drill(cr, m, tx, ty);
    else if (kind == MARK_INLET)
        marks_arrow(cr, tx, ty, m->x, m->y, true, color);
    else
        marks_arrow(cr, m->x, m->y, tx, ty, kind == MARK_OUTLET, color);
}

void marks_label(cairo_t *cr, double x, double y, const char *label, ink color, bool behind)
{
    const double dash[] = {4.0, 3.0};
    cairo_new_path(cr);
    cairo_arc(cr, x, y, label_radius, 0.0, 7.0);
    ink_use(cr, paper);
    cairo_fill_preserve(cr);
    ink_use(cr, color);
    cairo_set_line_width(cr, 2.2);
    if (behind)
        cairo_set_dash(cr, dash, 2, 0.0);
    cairo_stroke(cr);
    cairo_set_dash(cr, NULL, 0, 0.0);
    ink_write(cr, x - 0.5 * ink_width(cr, 15.0, true, label), y + 5.5, 15.0, true, color, label);
}

bool marks_near_cut(const drawing *picture, const picture_mark *mark)
{
    double p[3], way[3];
    marks_project(picture, mark, p, way);
    return fabs(p[2]) <= 0.5 * mark->diameter_mm + 2.0;
}

/* The mouth of a bore to drill, where it faces the viewer: a dark place with a rim, in scale. */
static void draw_mouth(cairo_t *cr, const drawing *picture, const frame *panel,
    const picture_mark *mark)
{
    double at[3], way[3], x, y;
    marks_project(picture, mark, at, way);
    if (mark->depth_mm <= 0.0 || way[2] < 0.1)
        return;
    frame_place(panel, at[0], at[1], &x, &y);
    cairo_save(cr);
    cairo_translate(cr, x, y);
    cairo_rotate(cr, atan2(-way[1], way[0]));
    cairo_scale(cr, way[2], 1.0);
    cairo_new_path(cr);
    cairo_arc(cr, 0.0, 0.0, fmax(2.0, 0.5 * mark->diameter_mm * panel->scale), 0.0, 7.0);
    cairo_restore(cr);
    ink_use(cr, text_ink);
    cairo_fill_preserve(cr);
    ink_use(cr, drill_ink);
    cairo_set_line_width(cr, 1.5);
    cairo_stroke(cr);
}

/* The marks of a view: all, those near the cut, or only the one called label. */
void marks_draw(cairo_t *cr, const drawing *picture, const frame *panel, bool cut_only,
    const char *label)
{
    mark_place *m = calloc(picture->mark_count + 1, sizeof *m);
    size_t *which = calloc(picture->mark_count + 1, sizeof *which), count = 0;
    for (size_t i = 0; i < picture->mark_count && m && which; i++) {
        const picture_mark *mark = &picture->marks[i];
        if ((cut_only && !marks_near_cut(picture, mark))
            || (label && strcmp(label, mark->label) != 0))
            continue;
        if (!cut_only)
            draw_mouth(cr, picture, panel, mark);
        which[count] = i;
        m[count++] = place_mark(picture, panel, mark);
    }
    if (count > 0)
        spread_labels(m, count);
    for (size_t i = 0; i < count; i++)
        marks_sign(cr, picture->marks[which[i]].kind, &m[i]);
    for (size_t i = 0; i < count; i++) {
        const picture_mark *mark = &picture->marks[which[i]];
        marks_label(cr, m[i].label_x, m[i].label_y, mark->label, marks_color(mark->kind),
            m[i].behind && !cut_only);
    }
    free(m);
    free(which);
}
