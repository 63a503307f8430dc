/* SPDX-License-Identifier: MIT
 * The level of the liquid at points near columns. A span that is full or dry has no surface of its
 * own: it gets that of the nearest span that has one and that it touches through others like itself. So
 * the level is one number on both sides of a waterline, and who draws it by the difference between a
 * point's height and its level gets a smooth line, not steps of a column. */
#include "column/waterline.h"

#include "base/threads.h"
#include "column/columns.h"
#include "column/pose.h"

#include <assert.h>
#include <math.h>

enum { REACH = 3 }; /* columns from a point to the nearest one that counts */

typedef struct spread {
    const vugi_columns *c;
    const double *middle;
    double *level;    /* of each span; NaN: not reached yet */
    uint32_t *column; /* of each span */
    uint32_t *queue;
    size_t head, tail;
} spread;

/* Could the surface at level be that of span n, which has none? */
static bool takes(const spread *w, size_t n, double level)
{
    assert(n < w->c->count);
    if (w->middle[n] >= w->c->hi[n])
        return level >= w->c->hi[n];
    return w->middle[n] <= w->c->lo[n] && level <= w->c->lo[n];
}

static void reach(spread *w, size_t from, size_t column)
{
    const vugi_columns *c = w->c;
    for (size_t n = c->first[column]; n < c->first[column + 1]; n++) {
        if (isnan(w->level[n]) && vugi_spans_touch(c, from, n) && takes(w, n, w->level[from])) {
            w->level[n] = w->level[from];
            w->queue[w->tail++] = (uint32_t)n;
        }
    }
}

static void spread_levels(spread *w)
{
    const vugi_columns *c = w->c;
    size_t nx = (size_t)c->nx, ny = (size_t)c->ny;
    for (size_t s = 0; s < c->count; s++) {
        bool open = w->middle[s] > c->lo[s] && w->middle[s] < c->hi[s];
        w->level[s] = open ? w->middle[s] : NAN;
        if (open)
            w->queue[w->tail++] = (uint32_t)s;
    }
    while (w->head < w->tail) {
        size_t s = w->queue[w->head++], column = w->column[s];
        size_t x = column % nx, y = column / nx;
        if (x > 0)
            reach(w, s, column - 1);
        if (x + 1 < nx)
            reach(w, s, column + 1);
        if (y > 0)
            reach(w, s, column - nx);
        if (y + 1 < ny)
            reach(w, s, column + nx);
    }
    for (size_t s = 0; s < c->count; s++)
        if (isnan(w->level[s]))
            w->level[s] = w->middle[s] >= c->hi[s] ? c->zhi : c->zlo;
}

/* The span of a column that is nearest to height z, if nearer than *best: squared distance, with the
 * column's own. */
static void nearer(const spread *w, size_t column, double z, double aside, double *best,
    double *level)
{
    const vugi_columns *c = w->c;
    for (size_t n = c->first[column]; n < c->first[column + 1]; n++) {
        double off = fmax(0.0, fmax(c->lo[n] - z, z - c->hi[n]));
        double distance = aside + off * off;
        if (distance < *best) {
            *best = distance;
            *level = w->level[n];
        }
    }
}

static double level_at(const spread *w, const double point[3])
{
    const vugi_columns *c = w->c;
    double at[3], level = NAN, best = REACH * REACH * c->h * c->h;
    vugi_to_pose(c->basis, point, at);
    double fx = (at[0] - c->x0) / c->h, fy = (at[1] - c->y0) / c->h;
    if (!(fx > -REACH - 1 && fx < c->nx + REACH && fy > -REACH - 1 && fy < c->ny + REACH))
        return NAN;
    int32_t ix = (int32_t)lround(fx), iy = (int32_t)lround(fy);
    for (int32_t ring = 0; ring <= REACH; ring++) {
        double least = (ring - 0.5) * c->h; /* of what this ring and those beyond can offer */
        if (ring > 0 && least * least > best)
            break;
        for (int32_t y = iy - ring; y <= iy + ring; y++) {
            int32_t step = y == iy - ring || y == iy + ring || ring == 0 ? 1 : 2 * ring;
            for (int32_t x = ix - ring; x <= ix + ring; x += step) {
                if (x < 0 || y < 0 || x >= c->nx || y >= c->ny)
                    continue;
                double dx = (fx - x) * c->h, dy = (fy - y) * c->h;
                nearer(w, (size_t)y * (size_t)c->nx + (size_t)x, at[2], dx * dx + dy * dy, &best,
                    &level);
            }
        }
    }
    return level;
}

static vug_status check_points(vug_context *ctx, const double *points, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const double *p = points + 3 * i;
        for (int k = 0; k < 3; k++)
            if (!(fabs(p[k]) <= VUG_MAX_COORDINATE_MM))
                return vugi_fail(ctx, VUG_ERR_ARGUMENT,
                    "point %zu is (%g, %g, %g): it must be finite and within %d mm", i, p[0], p[1],
                    p[2], VUG_MAX_COORDINATE_MM);
    }
    return VUG_OK;
}

vug_status vugi_columns_levels(vug_context *ctx, const vugi_columns *c, const double *middle,
    const double *points, size_t count, double *levels)
{
    if (count > 0 && (!points || !levels))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "points or levels_mm is NULL");
    vug_status status = check_points(ctx, points, count);
    if (status)
        return status;
    spread w = {.c = c, .middle = middle};
    w.level = vugi_alloc(&ctx->mem, c->count + 1, sizeof *w.level);
    w.column = vugi_alloc(&ctx->mem, c->count + 1, sizeof *w.column);
    w.queue = vugi_alloc(&ctx->mem, c->count + 1, sizeof *w.queue);
    if (!w.level || !w.column || !w.queue) {
        status = vugi_fail_memory(ctx);
    } else {
        vugi_columns_of_spans(c, w.column);
        spread_levels(&w);
#pragma omp parallel for schedule(static) num_threads(vugi_threads(ctx, count))
        for (int64_t i = 0; i < (int64_t)count; i++)
            levels[i] = level_at(&w, points + 3 * i);
    }
    vugi_free(&ctx->mem, w.level);
    vugi_free(&ctx->mem, w.column);
    vugi_free(&ctx->mem, w.queue);
    return status;
}
