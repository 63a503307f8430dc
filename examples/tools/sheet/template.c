/* SPDX-License-Identifier: MIT */
#include "template.h"

#include "held.h"

#include "../picture/ink.h"
#include "../tool/amounts.h"

#include <math.h>
#include <stdio.h>

/* mm of paper: a template, where what is larger is cut off around the bore; what stands around one; the line to
 * check the printer by; a title. */
enum { TALLEST = 150, WIDEST = 105, AROUND = 50, SCALE = 16, TITLE = 10 };

static void line(cairo_t *cr, double x0, double y0, double x1, double y1)
{
    cairo_move_to(cr, x0, y0);
    cairo_line_to(cr, x1, y1);
}

/* A line of 100 mm to check the printer by. */
static void draw_scale(pages *p)
{
    p->y += 2.0;
    paper_need(p, SCALE);
    double x = PAPER_MARGIN, y = p->y + 4.0;
    ink_use(p->cr, text_ink);
    cairo_set_line_width(p->cr, 0.3);
    line(p->cr, x, y, x + 100.0, y);
    for (int i = 0; i <= 10; i++)
        line(p->cr, x + 10.0 * i, y - (i % 10 == 0 ? 3.0 : i == 5 ? 2.0 : 1.2), x + 10.0 * i, y);
    cairo_stroke(p->cr);
    p->y = y + 1.5;
    paper_wrap(p, x, 3.2, false,
        "This line is 100 mm long. If it is not, print again at 100 %, not fitted to the page.");
    p->y += 3.0;
}

/* A distance along the paper, with its number. */
static void measure(cairo_t *cr, double x0, double y0, double x1, double y1)
{
    char text[24];
    double length = hypot(x1 - x0, y1 - y0);
    if (length < 1.0)
        return;
    snprintf(text, sizeof text, "%.1f", length);
    ink_use(cr, text_ink);
    cairo_set_line_width(cr, 0.2);
    line(cr, x0, y0, x1, y1);
    double nx = -(y1 - y0) / length, ny = (x1 - x0) / length;
    line(cr, x0 - nx, y0 - ny, x0 + nx, y0 + ny);
    line(cr, x1 - nx, y1 - ny, x1 + nx, y1 + ny);
    cairo_stroke(cr);
    double x = 0.5 * (x0 + x1), y = 0.5 * (y0 + y1), wide = ink_width(cr, 2.8, false, text);
    cairo_set_source_rgb(cr, 1.0, 1.0, 1.0);
    cairo_rectangle(cr, x - 0.5 * wide - 0.6, y - 1.7, wide + 1.2, 3.4);
    cairo_fill(cr);
    ink_write(cr, x - 0.5 * wide, y + 1.0, 2.8, false, text_ink, text);
}

static void cross(cairo_t *cr, double x, double y, double diameter)
{
    cairo_new_path(cr);
    cairo_arc(cr, x, y, 0.5 * diameter, 0.0, 2.0 * 3.14159265358979);
    cairo_set_source_rgb(cr, 1.0, 1.0, 1.0);
    cairo_fill_preserve(cr);
    ink_use(cr, text_ink);
    cairo_set_line_width(cr, 0.25);
    cairo_stroke(cr);
    double arm = 0.5 * diameter + 3.0;
    line(cr, x - arm, y, x + arm, y);
    line(cr, x, y - arm, x, y + arm);
    cairo_stroke(cr);
}

/* From the place to where it is measured. */
static void guide(cairo_t *cr, double x0, double y0, double x1, double y1)
{
    const double dash[2] = {1.0, 0.8};
    ink_use(cr, text_ink);
    cairo_set_line_width(cr, 0.15);
    cairo_set_dash(cr, dash, 2, 0.0);
    line(cr, x0, y0, x1, y1);
    cairo_stroke(cr);
    cairo_set_dash(cr, NULL, 0, 0.0);
}

static void write_distances(pages *p, const fill_plan *plan, const plan_opening *o)
{
    const vug_plan_bore_info *b = o->bore;
    char text[160];
    vug_mesh_measures size = {.struct_size = sizeof size};
    snprintf(text, sizeof text, "%s: drill %s mm wide, %.1f mm through the wall", o->label,
        amount_mm(b->diameter_mm).text, b->depth_mm);
    paper_wrap(p, PAPER_MARGIN, 4.0, true, text);
    paper_wrap(p, PAPER_MARGIN, 3.2, false,
        "Seen as the drill looks at it, in true size: lay the part on it or take the distances "
        "off.");
    p->y += 1.0;
    if (!vug_mesh_measure(plan->ctx, plan->mesh, &size)) {
        snprintf(text, sizeof text,
            "Above the lowest point of the part as it was modelled: %.1f mm",
            b->point_mm[2] - size.lo_mm[2]);
        paper_wrap(p, PAPER_MARGIN, 3.2, false, text);
    }
    for (size_t i = 0; i < plan->opening_count; i++) {
        const plan_opening *other = plan->openings + i;
        double d = 0.0;
        if (other == o || other->bore)
            continue;
        for (int k = 0; k < 3; k++)
            d += pow(b->point_mm[k] - other->info.center_mm[k], 2.0);
        snprintf(text, sizeof text, "With a caliper from the middle of opening %s: %.1f mm",
            other->label, sqrt(d));
        paper_wrap(p, PAPER_MARGIN, 3.2, false, text);
    }
    p->y += 7.0;
}

/* The part as the drill sees it. */
static held_view look_along(const fill_plan *plan, const vug_plan_bore_info *b)
{
    double toward[3], up[3];
    for (int k = 0; k < 3; k++)
        toward[k] = -b->direction[k];
    const double away = fabs(toward[2]) < 0.9 ? 0.0 : 1.0;
    const double high[3] = {0.0, away, 1.0 - away};
    double along = high[1] * toward[1] + high[2] * toward[2], length = 0.0;
    for (int k = 0; k < 3; k++) {
        up[k] = high[k] - along * toward[k];
        length += up[k] * up[k];
    }
    for (int k = 0; k < 3; k++)
        up[k] /= sqrt(length);
    return held_look(plan, up, toward);
}

static bool draw_one(pages *p, const fill_plan *plan, const plan_opening *o)
{
    const vug_plan_bore_info *b = o->bore;
    double x, y;
    held_view v = look_along(plan, b);
    double tall = fmin(v.tall, TALLEST), wide = fmin(v.wide, WIDEST);
    paper_need(p, tall + AROUND);
    write_distances(p, plan, o);
    held_place(&v, b->point_mm, &x, &y);
    /* the frame follows the bore over a part that is larger than it */
    double shift_x = fmax(0.0, fmin(x - 0.5 * wide, v.wide - wide));
    double shift_y = fmax(0.0, fmin(y - 0.5 * tall, v.tall - tall));
    double left = PAPER_MARGIN + 22.0 - shift_x, top = p->y - shift_y;
    cairo_save(p->cr);
    cairo_rectangle(p->cr, PAPER_MARGIN + 19.0, p->y - 3.0, wide + 6.0, tall + 6.0);
    cairo_clip(p->cr);
    bool good = held_draw(p, plan, &v, left, top);
    for (size_t i = 0; i < plan->opening_count; i++)
        if (plan->openings + i != o)
            held_letter(p, &v, plan->openings + i, left, top, false);
    cairo_restore(p->cr);
    cross(p->cr, left + x, top + y, b->diameter_mm);
    double below = p->y + tall + 5.0, beside = PAPER_MARGIN + 13.0;
    guide(p->cr, left + x, top + y, left + x, below);
    guide(p->cr, beside, top + y, left + x, top + y);
    if (shift_x == 0.0)
        measure(p->cr, left, below, left + x, below);
    if (v.wide - shift_x <= wide)
        measure(p->cr, left + x, below, left + v.wide, below);
    if (shift_y == 0.0)
        measure(p->cr, beside, top, beside, top + y);
    if (v.tall - shift_y <= tall)
        measure(p->cr, beside, top + y, beside, top + v.tall);
    p->y += tall + 12.0;
    return good;
}

/* The title stays with the line below it and the first template. */
static void begin(pages *p, const fill_plan *plan)
{
    for (size_t i = 0; i < plan->opening_count; i++)
        if (plan->openings[i].bore) {
            held_view v = look_along(plan, plan->openings[i].bore);
            paper_need(p, TITLE + SCALE + fmin(v.tall, TALLEST) + AROUND);
            paper_wrap(p, PAPER_MARGIN, 5.0, true, "Where to drill");
            return;
        }
}

bool template_draw(pages *p, const fill_plan *plan)
{
    bool good = true;
    if (plan->info.bores == 0 || plan->info.in_model)
        return true; /* what is printed with it nobody marks on it */
    begin(p, plan);
    draw_scale(p);
    for (size_t i = 0; i < plan->opening_count && good; i++)
        if (plan->openings[i].bore)
            good = draw_one(p, plan, plan->openings + i);
    return good;
}
