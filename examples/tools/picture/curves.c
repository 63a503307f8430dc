/* SPDX-License-Identifier: MIT */
#include "curves.h"

#include "ink.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 160, PLACES = 6000 }; /* moments: more do not show on so small a chart */

/* ---- out of the course --------------------------------------------------------------------- */

/* Places on the walls of the cavity, from which it is seen how high liquid stands. */
typedef struct places {
    double *xyz, *level;
    double *stays; /* of a drain: the level there in the end */
    size_t count;
    double low; /* height of the lowest */
} places;

static double height_of(const double p[3], const double up[3])
{
    return p[0] * up[0] + p[1] * up[1] + p[2] * up[2];
}

static vug_status find_places(const vug_mesh *walls, const double up[3], places *found,
    double *height)
{
    const size_t count = vug_mesh_vertex_count(walls), step = count / PLACES + 1;
    double high = -INFINITY;
    *found = (places){.low = INFINITY};
    found->xyz = malloc((count / step + 2) * 3 * sizeof *found->xyz);
    found->level = malloc((count / step + 2) * sizeof *found->level);
    found->stays = malloc((count / step + 2) * sizeof *found->stays);
    if (!found->xyz || !found->level || !found->stays)
        return VUG_ERR_MEMORY;
    for (size_t i = 0; i < count; i++) {
        const double *p = vug_mesh_vertices(walls) + 3 * i;
        found->low = fmin(found->low, height_of(p, up));
        high = fmax(high, height_of(p, up));
        if (i % step == 0)
            memcpy(found->xyz + 3 * found->count++, p, 3 * sizeof *p);
    }
    *height = high - found->low;
    return VUG_OK;
}

/* Of a drain: what stays behind in the end is not what is followed. */
static vug_status find_stays(vug_context *ctx, const vug_course *course, bool drain, places *at)
{
    vug_moment *end = NULL;
    vug_status status = VUG_OK;
    for (size_t k = 0; k < at->count; k++)
        at->stays[k] = NAN;
    if (drain)
        status = vug_course_at_time(ctx, course, INFINITY, &end);
    if (drain && !status)
        status = vug_moment_levels(ctx, end, at->xyz, at->count, at->stays);
    vug_moment_free(end);
    return status;
}

/* How high liquid stands over the lowest place at a moment of the course; of a drain, liquid that will leave. */
static vug_status level_at(vug_context *ctx, const vug_course *course, const double up[3],
    const places *at, curves *c, size_t i)
{
    vug_moment *moment = NULL;
    vug_status status = c->timed ? vug_course_at_time(ctx, course, c->time_s[i], &moment)
                                 : vug_course_at_volume(ctx, course, c->liquid_mm3[i], &moment);
    if (!status)
        status = vug_moment_levels(ctx, moment, at->xyz, at->count, at->level);
    for (size_t k = 0; k < at->count && !status; k++) {
        double own = height_of(at->xyz + 3 * k, up), level = at->level[k];
        if (level >= own
            && !(at->stays[k]
                >= own)) /* where all is full around it, no surface is told but the top */
            c->level_mm[i] = fmax(c->level_mm[i],
                (level < at->low + c->height_mm - 1e-9 ? level : own) - at->low);
    }
    vug_moment_free(moment);
    return status;
}

/* Rows that happen by themselves, at most MOST of them and the last. */
static void pick(const double *rows, size_t row_count, curves *c)
{
    size_t end = row_count;
    for (size_t i = 0; i < row_count && end == row_count; i++)
        if (rows[3 * i] < 0.0)
            end = i;
    c->held = end < row_count;
    c->timed = end > 1 && rows[3 * (end - 1)] > rows[0];
    if (!c->timed)
        end = row_count;
    size_t step = end / MOST + 1;
    for (size_t i = 0; i < end; i += i + step < end || i + 1 == end ? step : end - 1 - i) {
        c->time_s[c->count] = rows[3 * i];
        c->liquid_mm3[c->count] = rows[3 * i + 1];
        c->pressure_pa[c->count++] = rows[3 * i + 2];
    }
}

vug_status curves_take(vug_context *ctx, const vug_course *course, const vug_cavities *cavities,
    const double up[3], bool drain, curves *taken)
{
    places at = {.xyz = NULL};
    double *rows = NULL;
    size_t row_count = 0;
    vug_course_info info = {.struct_size = sizeof info};
    *taken = (curves){.drain = drain};
    vug_status status = vug_course_get(course, &info);
    if (!status)
        status = vug_course_curve(ctx, course, &rows, &row_count);
    taken->time_s = calloc(4 * (MOST + 2), sizeof *taken->time_s);
    if (!status && !taken->time_s)
        status = VUG_ERR_MEMORY;
    if (!status) {
        taken->liquid_mm3 = taken->time_s + MOST + 2;
        taken->pressure_pa = taken->liquid_mm3 + MOST + 2;
        taken->level_mm = taken->pressure_pa + MOST + 2;
        pick(rows, row_count, taken);
        status = find_places(vug_cavities_mesh(cavities, info.cavity, NULL), up, &at,
            &taken->height_mm);
    }
    if (!status)
        status = find_stays(ctx, course, drain, &at);
    for (size_t i = 0; i < taken->count && !status; i++)
        status = level_at(ctx, course, up, &at, taken, i);
    free(at.xyz);
    free(at.level);
    free(at.stays);
    vug_free(ctx, rows);
    return status;
}

void curves_free(curves *taken)
{
    free(taken->time_s);
}

/* ---- one chart ------------------------------------------------------------------------------- */

typedef struct chart {
    cairo_t *cr;
    double x, y, wide, tall; /* of the field, its lower left corner */
    double across, up;       /* at its right and upper edge; 0 is at the others */
} chart;

/* The least of 1, 2, 5 x 10^n of which at most six make span. */
static double step_of(double span)
{
    double step = pow(10.0, floor(log10(span / 6.0)));
    while (span / step > 6.0 + 1e-9)
        step *= span / (2.0 * step) <= 6.0 ? 2.0 : span / (5.0 * step) <= 6.0 ? 5.0 : 10.0;
    return step;
}

static void write_amid(cairo_t *cr, double x, double y, const char *text)
{
    ink_write(cr, x - 0.5 * ink_width(cr, 13.0, false, text), y, 13.0, false, soft_ink, text);
}

static void draw_axes(const chart *c, const char *title, const char *along)
{
    char text[32];
    ink_write(c->cr, c->x - 44.0, c->y - c->tall - 20.0, 15.0, true, text_ink, title);
    cairo_set_line_width(c->cr, 1.0);
    for (double step = step_of(c->up), v = 0.0; v <= c->up * 1.0001; v += step) {
        double y = c->y - v / c->up * c->tall;
        cairo_move_to(c->cr, c->x, y);
        cairo_line_to(c->cr, c->x + c->wide, y);
        cairo_set_source_rgb(c->cr, 0.87, 0.87, 0.85);
        cairo_stroke(c->cr);
        snprintf(text, sizeof text, "%g", v);
        ink_write(c->cr, c->x - 8.0 - ink_width(c->cr, 13.0, false, text), y + 4.5, 13.0, false,
            soft_ink, text);
    }
    for (double step = step_of(c->across), v = 0.0; v <= c->across * 1.0001; v += step) {
        double x = c->x + v / c->across * c->wide;
        cairo_move_to(c->cr, x, c->y);
        cairo_line_to(c->cr, x, c->y + 5.0);
        ink_use(c->cr, line_ink);
        cairo_stroke(c->cr);
        snprintf(text, sizeof text, "%g", v);
        write_amid(c->cr, x, c->y + 20.0, text);
    }
    cairo_move_to(c->cr, c->x, c->y);
    cairo_line_to(c->cr, c->x + c->wide, c->y);
    ink_use(c->cr, line_ink);
    cairo_stroke(c->cr);
    write_amid(c->cr, c->x + 0.5 * c->wide, c->y + 40.0, along);
}

static void add_point(const chart *c, double across, double up, bool first)
{
    double x = c->x + across / c->across * c->wide, y = c->y - up / c->up * c->tall;
    if (first)
        cairo_move_to(c->cr, x, y);
    else
        cairo_line_to(c->cr, x, y);
}

static void draw_line(const chart *c)
{
    ink_use(c->cr, liquid_ink);
    cairo_set_line_width(c->cr, 2.2);
    cairo_set_line_join(c->cr, CAIRO_LINE_JOIN_ROUND);
    cairo_stroke(c->cr);
}

static double most_of(const double *value, size_t count)
{
    double most = 0.0;
    for (size_t i = 0; i < count; i++)
        most = fmax(most, value[i]);
    return most;
}

/* ---- the three ----------------------------------------------------------------------------------- */

static void draw_values(chart *c, const double *along, const double *value, size_t count)
{
    bool on = false;
    for (size_t i = 0; i < count; i++) {
        bool there = isfinite(value[i]);
        if (there)
            add_point(c, along[i], value[i], !on);
        on = there;
    }
    draw_line(c);
}

/* Liquid over time, in mL a minute, each value over so long that a jump at one moment does not hide the rest; *from is the moment it
 * begins at and becomes the one that it ends at. NAN: there is no more. */
static double next_rate(const curves *taken, size_t *from)
{
    const size_t last = taken->count - 1, first = *from;
    const double whole = taken->time_s[last];
    while (*from < last && taken->time_s[*from] - taken->time_s[first] < 0.01 * whole)
        ++*from;
    double time = taken->time_s[*from] - taken->time_s[first];
    double in = taken->liquid_mm3[*from] - taken->liquid_mm3[first];
    return time >= 0.005 * whole ? 0.06 * fmax(0.0, taken->drain ? -in : in) / time : NAN;
}

static double most_rate(const curves *taken)
{
    double most = 0.0, rate;
    for (size_t i = 0; isfinite(rate = next_rate(taken, &i));)
        most = fmax(most, rate);
    return most;
}

static void draw_rate(const chart *c, const curves *taken, const double *along)
{
    bool on = false;
    for (size_t i = 0, from = 0;; from = i, on = true) {
        double rate = next_rate(taken, &i);
        if (!isfinite(rate))
            break;
        add_point(c, along[from], rate, !on);
        add_point(c, along[i], rate, false);
    }
    draw_line(c);
}

/* The field of the next chart, to the right. */
static void step_right(chart *c, int left)
{
    c->x += c->wide + left;
}

void curves_draw(cairo_t *cr, const curves *taken, double x, double y, double wide)
{
    enum { LEFT = 56, GAP = 40, ABOVE = 52, BELOW = 56 };
    double along[MOST + 2], liquid[MOST + 2],
        by = !taken->timed                        ? 1e3
        : taken->time_s[taken->count - 1] > 300.0 ? 60.0
                                                  : 1.0;
    const char *words = !taken->timed ? "liquid inside, mL"
        : taken->held
        ? by > 1.0 ? "time, minutes; then no more by itself" : "time, s; then no more by itself"
        : by > 1.0 ? "time, minutes"
                   : "time, s";
    const bool pressed = most_of(taken->pressure_pa, taken->count) >= 0.5;
    const bool inside = taken->drain && taken->timed,
               rated = taken->timed && most_rate(taken) > 0.0;
    const int charts = 1 + pressed + inside + rated; /* the page's width is theirs */
    if (taken->count < 2)
        return;
    for (size_t i = 0; i < taken->count; i++)
        along[i] = (taken->timed ? taken->time_s[i] : taken->liquid_mm3[i]) / by;
    chart c = {.cr = cr, .y = y + CURVES_TALL - BELOW, .tall = CURVES_TALL - ABOVE - BELOW};
    c.wide = (wide - (charts - 1.0) * GAP) / charts - LEFT;
    c.x = x + LEFT;
    c.across = fmax(1e-6, most_of(along, taken->count));
    c.up = taken->height_mm;
    draw_axes(&c,
        taken->drain ? "Level that runs out, mm over the lowest place"
                     : "Highest liquid, mm over the lowest place",
        words);
    draw_values(&c, along, taken->level_mm, taken->count);
    if (pressed) {
        step_right(&c, LEFT + GAP);
        c.up = most_of(taken->pressure_pa, taken->count);
        draw_axes(&c, "Pressure inside at the inlet, Pa", words);
        draw_values(&c, along, taken->pressure_pa, taken->count);
    }
    if (inside) {
        step_right(&c, LEFT + GAP);
        c.up = 1e-3 * most_of(taken->liquid_mm3, taken->count);
        draw_axes(&c, "Liquid inside, mL", words);
        for (size_t i = 0; i < taken->count; i++)
            liquid[i] = 1e-3 * taken->liquid_mm3[i];
        draw_values(&c, along, liquid, taken->count);
    }
    if (rated) {
        step_right(&c, LEFT + GAP);
        c.up = most_rate(taken);
        draw_axes(&c, taken->drain ? "Running out, mL a minute" : "Going in, mL a minute", words);
        draw_rate(&c, taken, along);
    }
}
