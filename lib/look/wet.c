/* SPDX-License-Identifier: MIT
 * How much of a line through a cavity lies in liquid, at a moment of a fill or a drain. */
#include "look/wet.h"

#include "course/levels.h"

#include <math.h>

enum { BLOCK = 8 }; /* columns along a side of a square */

static int64_t blocks_over(int64_t columns)
{
    return (columns + BLOCK - 1) / BLOCK;
}

/* Of squares of columns; what columns have no span of the cavity's does not count. */
static void bound_blocks(vugi_wet *wet)
{
    const vugi_columns *c = wet->columns;
    int64_t blocks = wet->blocks_across * blocks_over(c->ny);
    for (int64_t b = 0; b < blocks; b++) {
        wet->block[2 * b] = INFINITY;
        wet->block[2 * b + 1] = -INFINITY;
    }
    for (int64_t column = 0; column < (int64_t)c->nx * c->ny; column++) {
        int64_t i = column % c->nx / BLOCK, j = column / c->nx / BLOCK;
        double *bound = wet->block + 2 * (j * wet->blocks_across + i);
        for (size_t s = c->first[column]; s < c->first[column + 1]; s++) {
            if (c->body[s] != wet->body)
                continue;
            bound[0] = fmin(bound[0], wet->top[s]);
            bound[1] = fmax(bound[1], wet->top[s]);
        }
    }
}

vug_status vugi_wet_make(vug_context *ctx, const vug_moment *moment, vugi_wet *wet)
{
    const vugi_columns *c = &moment->scene->columns;
    *wet = (vugi_wet){.columns = c,
        .body = moment->scene->graph.sweep.body,
        .all_below = INFINITY,
        .none_above = -INFINITY};
    wet->blocks_across = blocks_over(c->nx);
    size_t blocks = (size_t)wet->blocks_across * (size_t)blocks_over(c->ny);
    wet->top = vugi_alloc(&ctx->mem, c->count + 1, sizeof *wet->top);
    wet->block = vugi_alloc(&ctx->mem, 2 * blocks + 1, sizeof *wet->block);
    vug_status status = wet->top && wet->block
        ? vugi_column_levels(ctx, &ctx->mem, moment, wet->top)
        : vugi_fail_memory(ctx);
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
    else
        bound_blocks(wet);
    return status;
}

void vugi_wet_free(const vugi_allocator *mem, vugi_wet *wet)
{
    vugi_free(mem, wet->top);
    vugi_free(mem, wet->block);
    wet->top = wet->block = NULL;
}

/* ---- in one column ------------------------------------------------------------ */

/* Of two numbers; unlike fmin() and fmax(), which mind NAN, no calls. */
static inline double least_of(double a, double b)
{
    return a < b ? a : b;
}

static inline double most_of(double a, double b)
{
    return a > b ? a : b;
}

/* The span of a column that has most of the heights lo to hi, or else is nearest to them: how far it
 * misses them in *gap, 0 or less if it does not. */
static inline size_t find_span(const vugi_wet *wet, int64_t i, int64_t j, double lo, double hi,
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
        double miss = most_of(lo, c->lo[s]) - least_of(hi, c->hi[s]);
        if (best == SIZE_MAX || miss < *gap) {
            best = s;
            *gap = miss;
        }
        if (lo >= c->lo[s] && hi <= c->hi[s]) /* all of them */
            break;
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
    if (most_of(a, b) <= level)
        return to - from;
    if (least_of(a, b) >= level)
        return 0.0;
    double share = (level - least_of(a, b)) / fabs(b - a);
    return share * (to - from);
}

/* ---- from square to square, and from column to column ------------------------------- */

typedef struct walk {
    double next[2], step[2]; /* t at which the next cell begins, and from one to the next */
    int64_t at[2], move[2];
} walk;

/* Over cells as wide as so many columns. */
static walk walk_from(const vugi_columns *c, int across, const vugi_ray *ray, double from)
{
    const double corner[2] = {c->x0 - 0.5 * c->h, c->y0 - 0.5 * c->h}, side = across * c->h;
    walk w;
    for (int k = 0; k < 2; k++) {
        double d = ray->direction[k], u = (ray->start[k] + from * d - corner[k]) / side;
        double cell = floor(u);
        w.at[k] = (int64_t)cell;
        w.move[k] = d > 0.0 ? 1 : -1;
        bool crosses = fabs(d) > 1e-12;
        w.step[k] = crosses ? side / fabs(d) : INFINITY;
        w.next[k] = crosses ? from + w.step[k] * (d > 0.0 ? cell + 1.0 - u : u - cell) : INFINITY;
    }
    return w;
}

/* The t at which the line leaves the cell. */
static double cell_end(const walk *w, double from, double to)
{
    return most_of(from, least_of(to, least_of(w->next[0], w->next[1])));
}

static void go_on(walk *w)
{
    int k = w->next[0] < w->next[1] ? 0 : 1;
    w->next[k] += w->step[k];
    w->at[k] += w->move[k];
}

/* A stretch that no column has keeps the level of the column before it. */
static double through_columns(const vugi_wet *wet, const vugi_ray *ray, double from, double to)
{
    double length = 0.0, level = NAN;
    for (walk w = walk_from(wet->columns, 1, ray, from); from < to; go_on(&w)) {
        double end = cell_end(&w, from, to);
        double a = height_at(ray, from), b = height_at(ray, end), gap = INFINITY;
        size_t s = find_span(wet, w.at[0], w.at[1], least_of(a, b), most_of(a, b), &gap);
        if (s != SIZE_MAX && gap <= 0.0)
            level = wet->top[s];
        else if (isnan(level))
            level = level_around(wet, w.at[0], w.at[1], 0.5 * (a + b));
        length += below(ray, from, end, level);
        from = end;
    }
    return length;
}

/* Heights below which all is liquid in a square, whatever the column, and above which none is; none
 * of either where it has no column. */
static const double *bounds_of(const vugi_wet *wet, int64_t i, int64_t j)
{
    static const double unknown[2] = {-INFINITY, INFINITY};
    if (i < 0 || j < 0 || i >= wet->blocks_across || j >= blocks_over(wet->columns->ny))
        return unknown;
    const double *bound = wet->block + 2 * (j * wet->blocks_across + i);
    return bound[0] > bound[1] ? unknown : bound;
}

/* Only where columns of a square differ it is asked which one it is; those one after the other are walked through at
 * once. */
static double through_blocks(const vugi_wet *wet, const vugi_ray *ray, double from, double to)
{
    double length = 0.0, since = from;
    for (walk w = walk_from(wet->columns, BLOCK, ray, from); from < to; go_on(&w)) {
        double end = cell_end(&w, from, to), a = height_at(ray, from), b = height_at(ray, end);
        const double *bound = bounds_of(wet, w.at[0], w.at[1]);
        bool full = most_of(a, b) <= bound[0];
        if (full || least_of(a, b) >= bound[1]) {
            length += through_columns(wet, ray, since, from) + (full ? end - from : 0.0);
            since = end;
        }
        from = end;
    }
    return length + through_columns(wet, ray, since, to);
}

/* The t at which the line comes to a height, within from..to. */
static double reach(const vugi_ray *ray, double from, double to, double z)
{
    return least_of(to, most_of(from, (z - ray->start[2]) / ray->direction[2]));
}

double vugi_wet_length(const vugi_wet *wet, const vugi_ray *ray, double from, double to)
{
    double a = height_at(ray, from), b = height_at(ray, to);
    if (most_of(a, b) <= wet->all_below)
        return to - from;
    if (least_of(a, b) >= wet->none_above)
        return 0.0;
    double length = 0.0;
    if (fabs(ray->direction[2]) > 1e-9) { /* only what is between the two heights is asked for */
        double low = reach(ray, from, to, wet->all_below);
        double high = reach(ray, from, to, most_of(wet->none_above, wet->all_below));
        length = b > a ? low - from : to - low;
        from = least_of(low, high);
        to = most_of(low, high);
    }
    return length + through_blocks(wet, ray, from, to);
}
