/* SPDX-License-Identifier: MIT
 * Upright spans of a region of cells, and where air leaves each of its pieces. */
#include "shape/hollow/uprights.h"

#include "base/disjoint_set.h"
#include "base/vec.h"

#include <math.h>

static double height(const vugi_grid *g, int32_t k)
{
    return g->origin[2] + g->h * k;
}

/* From cell k towards the next one, where a field passes from a to b: as part of a step. */
static double passes(double a, double b)
{
    return a == b ? 0.5 : fmax(0.0, fmin(1.0, a / (a - b)));
}

static void measure_span(const vugi_uprights *u, const float *value, const float *depth,
    double deep, vugi_upright *s)
{
    const vugi_grid *g = u->grid;
    size_t plane = (size_t)g->n[0] * (size_t)g->n[1];
    const float *v = value + s->column, *d = depth + s->column;
    size_t from = (size_t)s->from * plane, last = (size_t)(s->to - 1) * plane;
    s->lo = height(g, s->from) - g->h * passes(v[from], v[from - plane]);
    s->hi = height(g, s->to - 1) + g->h * passes(v[last], v[last + plane]);
    s->deep = s->need = -INFINITY;
    for (int32_t k = s->to - 1; k >= s->from; k--) {
        size_t c = (size_t)k * plane;
        if (d[c] < deep)
            continue;
        double up = k == s->to - 1 ? 1.0 : passes(d[c] - deep, d[c + plane] - deep);
        s->deep = fmin(s->hi, height(g, k) + g->h * up);
        return;
    }
}

/* The region ends before the border of the grid: its lowest and highest layers are void. */
static bool find_spans(vugi_uprights *u, const float *value, const float *depth, double deep)
{
    const vugi_grid *g = u->grid;
    size_t columns = (size_t)g->n[0] * (size_t)g->n[1];
    u->first = vugi_alloc(&u->ctx->mem, columns + 1, sizeof *u->first);
    if (!u->first)
        return false;
    for (size_t column = 0; column < columns; column++) {
        u->first[column] = u->count;
        for (int32_t k = 1; k + 1 < g->n[2]; k++) {
            if (value[(size_t)k * columns + column] >= 0.0f)
                continue;
            if (!vugi_reserve(&u->ctx->mem, &u->span, &u->room, u->count + 1, sizeof *u->span))
                return false;
            vugi_upright s = {.from = k, .column = (uint32_t)column};
            while (k + 1 < g->n[2] && value[(size_t)k * columns + column] < 0.0f)
                k++;
            s.to = k;
            measure_span(u, value, depth, deep, &s);
            u->span[u->count++] = s;
        }
    }
    u->first[columns] = u->count;
    return true;
}

vugi_upright *vugi_uprights_at(const vugi_uprights *u, size_t column, int32_t k)
{
    for (size_t s = u->first[column]; s < u->first[column + 1]; s++)
        if (u->span[s].from <= k && k < u->span[s].to)
            return u->span + s;
    return NULL;
}

bool vugi_uprights_beside(const vugi_uprights *u, uint32_t s, int side, size_t range[2])
{
    uint32_t nx = (uint32_t)u->grid->n[0], ny = (uint32_t)u->grid->n[1];
    uint32_t column = u->span[s].column, i = column % nx, j = column / nx;
    if ((side == 0 && i == 0) || (side == 1 && i + 1 == nx) || (side == 2 && j == 0)
        || (side == 3 && j + 1 == ny))
        return false;
    size_t beside = side == 0 ? column - 1
        : side == 1           ? column + 1
        : side == 2           ? column - nx
                              : column + nx;
    range[0] = u->first[beside];
    range[1] = u->first[beside + 1];
    return range[0] < range[1];
}

/* ---- outlets -------------------------------------------------------------------------- */

static void place_of(const vugi_uprights *u, const vugi_upright *s, double at[3])
{
    uint32_t nx = (uint32_t)u->grid->n[0];
    at[0] = u->grid->origin[0] + u->grid->h * (s->column % nx);
    at[1] = u->grid->origin[1] + u->grid->h * (s->column / nx);
    at[2] = s->hi;
}

typedef struct summit { /* the top of a piece */
    double top, sum[2], nearest;
    size_t count;
} summit;

/* How far the end of a span is from the middle of its piece's top, across. */
static double off_middle(const vugi_uprights *u, const vugi_upright *s, const summit *m)
{
    double at[3];
    place_of(u, s, at);
    return hypot(at[0] - m->sum[0] / (double)m->count, at[1] - m->sum[1] / (double)m->count);
}

/* A ceiling that is flat at its top has the outlet near the middle of that: its slopes are as short as can be. */
static void choose_highest(const vugi_uprights *u, summit *top)
{
    for (size_t s = 0; s < u->count; s++)
        top[s] = (summit){.top = -INFINITY, .nearest = INFINITY};
    for (size_t s = 0; s < u->count; s++)
        top[u->root[s]].top = fmax(top[u->root[s]].top, u->span[s].hi);
    for (size_t s = 0; s < u->count; s++) {
        summit *m = top + u->root[s];
        double at[3];
        if (u->span[s].hi < m->top - 0.5 * u->grid->h)
            continue;
        place_of(u, u->span + s, at);
        m->sum[0] += at[0];
        m->sum[1] += at[1];
        m->count++;
    }
    for (size_t s = 0; s < u->count; s++) {
        summit *m = top + u->root[s];
        double off = off_middle(u, u->span + s, m);
        if (u->span[s].hi < m->top - 0.5 * u->grid->h || off >= m->nearest)
            continue;
        m->nearest = off;
        u->outlet[u->root[s]] = (uint32_t)s;
    }
}

static double off_outlet(const vugi_uprights *u, size_t s, const double outlet[3])
{
    double at[3];
    place_of(u, u->span + s, at);
    return vugi_point_distance(at, outlet);
}

/* Beside a wall ends are known to a step alone: of those near the outlet the highest counts. */
static void choose_given(const vugi_uprights *u, const double outlet[3])
{
    double best = INFINITY;
    uint32_t chosen = VUGI_NO_UPRIGHT;
    for (size_t s = 0; s < u->count; s++)
        best = fmin(best, off_outlet(u, s, outlet));
    for (uint32_t s = 0; s < u->count; s++)
        if (off_outlet(u, s, outlet) <= best + 2.0 * u->grid->h
            && (chosen == VUGI_NO_UPRIGHT || u->span[s].hi > u->span[chosen].hi))
            chosen = s;
    if (chosen != VUGI_NO_UPRIGHT)
        u->outlet[u->root[chosen]] = chosen;
}

static void join_spans(const vugi_uprights *u)
{
    vugi_sets_init(u->root, u->count);
    for (uint32_t s = 0; s < u->count; s++)
        for (int side = 1; side < 4; side += 2) {
            size_t range[2];
            if (!vugi_uprights_beside(u, s, side, range))
                continue;
            for (size_t t = range[0]; t < range[1]; t++)
                if (vugi_uprights_touch(u->span + s, u->span + t))
                    vugi_sets_unite(u->root, s, (uint32_t)t);
        }
    for (uint32_t s = 0; s < u->count; s++)
        u->root[s] = vugi_sets_find(u->root, s);
}

vug_status vugi_uprights_find(vugi_uprights *u, const float *value, const float *depth, double deep,
    const double outlet[3])
{
    const vugi_allocator *mem = &u->ctx->mem;
    if (!find_spans(u, value, depth, deep))
        return vugi_fail_memory(u->ctx);
    if (u->count >= VUGI_NO_UPRIGHT)
        return vugi_fail(u->ctx, VUG_ERR_LIMIT, "%zu spans; use fewer cells", u->count);
    summit *top = vugi_alloc(mem, u->count, sizeof *top);
    u->root = vugi_alloc(mem, u->count, sizeof *u->root);
    u->outlet = vugi_alloc(mem, u->count, sizeof *u->outlet);
    u->order = vugi_alloc(mem, u->count, sizeof *u->order);
    u->flooded = vugi_alloc(mem, u->count, 1);
    vug_status status = top && u->root && u->outlet && u->order && u->flooded
        ? VUG_OK
        : vugi_fail_memory(u->ctx);
    if (!status) {
        join_spans(u);
        choose_highest(u, top);
        if (outlet)
            choose_given(u, outlet);
    }
    vugi_free(mem, top);
    return status;
}

void vugi_uprights_free(vugi_uprights *u)
{
    vugi_free(&u->ctx->mem, u->span);
    vugi_free(&u->ctx->mem, u->first);
    vugi_free(&u->ctx->mem, u->root);
    vugi_free(&u->ctx->mem, u->outlet);
    vugi_free(&u->ctx->mem, u->order);
    vugi_free(&u->ctx->mem, u->flooded);
}
