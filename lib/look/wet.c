/* SPDX-License-Identifier: MIT
 * How much of a line through a cavity lies in liquid, at a moment of a fill or a drain. */
#include "look/wet.h"

#include "course/levels.h"

#include <math.h>

vug_status vugi_wet_make(vug_context *ctx, const vug_moment *moment, vugi_wet *wet)
{
    const vugi_columns *c = &moment->scene->columns;
    *wet = (vugi_wet){.columns = c,
        .body = moment->scene->graph.sweep.body,
        .all_below = INFINITY,
        .none_above = -INFINITY};
    wet->top = vugi_alloc(&ctx->mem, c->count + 1, sizeof *wet->top);
    if (!wet->top)
        return vugi_fail_memory(ctx);
    vug_status status = vugi_column_levels(ctx, &ctx->mem, moment, wet->top);
    for (size_t s = 0; s < c->count && !status; s++) {
        double top = wet->top[s];
        if (c->body[s] != wet->body)
            continue;
        if (top < c->hi[s])
            wet->all_below = fmin(wet->all_below, top);
        if (top > c->lo[s])
            wet->none_above = fmax(wet->none_above, top);
        wet->top[s] = top >= c->hi[s] ? INFINITY : top <= c->lo[s] ? -INFINITY : top;
    }
    if (status)
        vugi_wet_free(&ctx->mem, wet);
    return status;
}

void vugi_wet_free(const vugi_allocator *mem, vugi_wet *wet)
{
    vugi_free(mem, wet->top);
    wet->top = NULL;
}

/* ---- in one column ------------------------------------------------------------ */

/* The span of a column that has most of the heights lo to hi, or else is nearest to them: how far it
 * misses them in *gap, 0 or less if it does not. */
static size_t find_span(const vugi_wet *wet, int64_t i, int64_t j, double lo, double hi,
    double *gap)
{
    const vugi_columns *c = wet->columns;
    size_t best = SIZE_MAX;
    if (i < 0 || j < 0 || i >= c->nx || j >= c->ny)
        return best;
    size_t column = (size_t)j * (size_t)c->nx + (size_t)i;
    for (size_t s = c->first[column]; s < c->first[column + 1]; s++) {
        if (c->body[s] != wet->body)
            continue;
        double miss = fmax(lo, c->lo[s]) - fmin(hi, c->hi[s]);
        if (best == SIZE_MAX || miss < *gap) {
            best = s;
            *gap = miss;
        }
    }
    return best;
}

/* For a stretch beside the cavity's columns, as at a wall: the nearest span of those around. */
static double level_around(const vugi_wet *wet, int64_t i, int64_t j, double z)
{
    double least = INFINITY, level = -INFINITY;
    for (int64_t y = j - 1; y <= j + 1; y++) {
        for (int64_t x = i - 1; x <= i + 1; x++) {
            double gap = INFINITY;
            size_t s = find_span(wet, x, y, z, z, &gap);
            if (s != SIZE_MAX && gap < least) {
                least = gap;
                level = wet->top[s];
            }
        }
    }
    return level;
}

static double height_at(const vugi_ray *ray, double t)
{
    return ray->start[2] + t * ray->direction[2];
}

/* The stretch from..to that lies under a level. */
static double below(const vugi_ray *ray, double from, double to, double level)
{
    double a = height_at(ray, from), b = height_at(ray, to);
    if (fmax(a, b) <= level)
        return to - from;
    if (fmin(a, b) >= level)
        return 0.0;
    double share = (level - fmin(a, b)) / fabs(b - a);
    return share * (to - from);
}

/* ---- from column to column ------------------------------------------------------ */

typedef struct walk {
    double next[2], step[2]; /* t at which the next column begins, and from one to the next */
    int64_t at[2], move[2];
} walk;

static walk walk_from(const vugi_columns *c, const vugi_ray *ray, double from)
{
    const double corner[2] = {c->x0 - 0.5 * c->h, c->y0 - 0.5 * c->h};
    walk w;
    for (int k = 0; k < 2; k++) {
        double d = ray->direction[k], u = (ray->start[k] + from * d - corner[k]) / c->h;
        double cell = floor(u);
        w.at[k] = (int64_t)cell;
        w.move[k] = d > 0.0 ? 1 : -1;
        bool crosses = fabs(d) > 1e-12;
        w.step[k] = crosses ? c->h / fabs(d) : INFINITY;
        w.next[k] = crosses ? from + w.step[k] * (d > 0.0 ? cell + 1.0 - u : u - cell) : INFINITY;
    }
    return w;
}

/* A stretch that no column has keeps the level of the column before it. */
static double through_columns(const vugi_wet *wet, const vugi_ray *ray, double from, double to)
{
    walk w = walk_from(wet->columns, ray, from);
    double length = 0.0, level = NAN;
    while (from < to) {
        int k = w.next[0] < w.next[1] ? 0 : 1;
        double end = fmax(from, fmin(to, w.next[k]));
        double a = height_at(ray, from), b = height_at(ray, end), gap = INFINITY;
        size_t s = find_span(wet, w.at[0], w.at[1], fmin(a, b), fmax(a, b), &gap);
        if (s != SIZE_MAX && gap <= 0.0)
            level = wet->top[s];
        else if (isnan(level))
            level = level_around(wet, w.at[0], w.at[1], 0.5 * (a + b));
        length += below(ray, from, end, level);
        from = end;
        w.next[k] += w.step[k];
        w.at[k] += w.move[k];
    }
    return length;
}

/* The t at which the line comes to a height, within from..to. */
static double reach(const vugi_ray *ray, double from, double to, double z)
{
    return fmin(to, fmax(from, (z - ray->start[2]) / ray->direction[2]));
}

double vugi_wet_length(const vugi_wet *wet, const vugi_ray *ray, double from, double to)
{
    double a = height_at(ray, from), b = height_at(ray, to);
    if (fmax(a, b) <= wet->all_below)
        return to - from;
    if (fmin(a, b) >= wet->none_above)
        return 0.0;
    double length = 0.0;
    if (fabs(ray->direction[2]) > 1e-9) { /* only what is between the two heights is asked for */
        double low = reach(ray, from, to, wet->all_below);
        double high = reach(ray, from, to, fmax(wet->none_above, wet->all_below));
        length = b > a ? low - from : to - low;
        from = fmin(low, high);
        to = fmax(low, high);
    }
    return length + through_columns(wet, ray, from, to);
}
