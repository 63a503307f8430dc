/* SPDX-License-Identifier: MIT
 * Ceilings lowered in rounds, each followed by a look at the skin. */
#include "shape/hollow/fillable.h"

#include "base/angle.h"

#include "shape/hollow/bare.h"
#include "shape/hollow/lower.h"

#include <math.h>
#include <string.h>

enum { ROUNDS = 4, SLOPES = 4 };

/* Of the slope asked for; in steps, how far above the middle of a cell that needs liquid a ceiling is, and what air
 * below a ceiling is a pocket. */
static const double SLOPE[SLOPES] = {1.0, 0.5, 0.25, 0.0}, ABOVE = 0.01, POCKET = 0.25;

typedef struct shaping {
    vugi_fillable *f;
    vugi_uprights u;
    vugi_bare bare;
    uint8_t *liquid, *mark; /* cells */
    uint8_t *was;           /* liquid before anything was lowered */
    double *level;          /* of each span, before anything was lowered */
    uint32_t *parent, *order;
    size_t reached;
    double *need;
} shaping;

static double height(const vugi_grid *g, int32_t k)
{
    return g->origin[2] + g->h * k;
}

static void find_liquid(const shaping *s)
{
    const vugi_grid *g = s->f->grid;
    size_t plane = (size_t)g->n[0] * (size_t)g->n[1];
    memset(s->liquid, 0, vugi_grid_count(g));
    for (size_t i = 0; i < s->u.count; i++) {
        const vugi_upright *span = s->u.span + i;
        double top = fmin(span->level, span->ceiling);
        for (int32_t k = span->from; k < span->to && height(g, k) <= top; k++)
            s->liquid[(size_t)k * plane + span->column] = 1;
    }
}

static double trapped_in(const shaping *s)
{
    double sum = 0.0;
    for (size_t i = 0; i < s->u.count; i++) {
        const vugi_upright *span = s->u.span + i;
        sum += fmax(0.0, span->ceiling - fmax(span->level, span->lo));
    }
    return sum * s->f->grid->h * s->f->grid->h;
}

/* Air and skin with the ceilings as they are in the spans. */
static vug_status look(shaping *s, int after)
{
    find_liquid(s);
    if (!after)
        memcpy(s->was, s->liquid, vugi_grid_count(s->f->grid));
    s->f->trapped[after] = trapped_in(s);
    if (after)
        memset(s->mark, 0, vugi_grid_count(s->f->grid));
    return vugi_bare_measure(&s->bare, s->liquid, s->f->work, after ? s->mark : NULL,
        s->f->bare + after);
}

/* ---- where liquid has to stand as before ----------------------------------------------- */

/* One layer of the ball around a cell: the nearest of its cells that had liquid before, or SIZE_MAX. */
static size_t nearest_in_layer(const shaping *s, const int32_t at[3], int32_t k, double reach)
{
    const vugi_grid *g = s->f->grid;
    double across = reach * reach - (double)(k - at[2]) * (k - at[2]), best = INFINITY;
    int32_t r = across > 0.0 ? (int32_t)sqrt(across) : 0;
    size_t found = SIZE_MAX;
    for (int32_t j = at[1] > r ? at[1] - r : 0; j <= at[1] + r && j < g->n[1]; j++)
        for (int32_t i = at[0] > r ? at[0] - r : 0; i <= at[0] + r && i < g->n[0]; i++) {
            double x = i - at[0], y = j - at[1], far = x * x + y * y;
            size_t c = vugi_grid_cell(g, i, j, k);
            if (far > across || far >= best || !s->was[c])
                continue;
            best = far;
            found = c;
        }
    return found;
}

/* Skin that became bare needs liquid in one cell near it that had some: the lowest is enough. */
static void find_need(const shaping *s, size_t mark)
{
    const vugi_grid *g = s->f->grid;
    size_t plane = (size_t)g->n[0] * (size_t)g->n[1];
    double reach = s->f->most / g->h - 0.5;
    int32_t at[3], r = (int32_t)reach;
    vugi_grid_place(g, mark, at);
    for (int32_t k = at[2] > r ? at[2] - r : 0; k <= at[2] + r && k < g->n[2]; k++) {
        size_t c = nearest_in_layer(s, at, k, reach);
        if (c == SIZE_MAX)
            continue;
        vugi_upright *span = vugi_uprights_at(&s->u, c % plane, k);
        span->need = fmax(span->need, fmin(span->hi, height(g, k) + ABOVE * g->h));
        return;
    }
}

static void find_needs(const shaping *s)
{
    for (size_t c = 0, count = vugi_grid_count(s->f->grid); c < count; c++)
        if (s->mark[c])
            find_need(s, c);
}

/* Their ways out, too. */
static void spread_back(const shaping *s)
{
    for (size_t i = s->reached; i-- > 0;) {
        uint32_t span = s->order[i], parent = s->parent[span];
        if (parent != VUGI_NO_UPRIGHT)
            s->u.span[parent].need = fmax(s->u.span[parent].need, s->u.span[span].need);
    }
}

/* And those as wide as a way has to be. */
static void spread_across(const shaping *s)
{
    int steps = (int)ceil(0.5 * s->f->clear / s->f->grid->h);
    for (int step = 0; step < steps; step++) {
        for (size_t i = 0; i < s->u.count; i++)
            s->need[i] = s->u.span[i].need;
        for (uint32_t i = 0; i < s->u.count; i++)
            for (int side = 0; side < 4; side++) {
                size_t range[2];
                if (!vugi_uprights_beside(&s->u, i, side, range))
                    continue;
                for (size_t t = range[0]; t < range[1]; t++)
                    if (vugi_uprights_touch(s->u.span + i, s->u.span + t))
                        s->u.span[i].need = fmax(s->u.span[i].need, fmin(s->need[t], s->level[i]));
            }
    }
}

/* Below a pocket liquid stands as high as before, whether its air stays or becomes solid: else skin along its edge would
 * lose some. */
static void keep_waterlines(const shaping *s)
{
    for (size_t i = 0; i < s->u.count; i++) {
        vugi_upright *span = s->u.span + i;
        if (span->hi > s->level[i] + POCKET * s->f->grid->h)
            span->need = s->level[i];
    }
    spread_back(s);
    spread_across(s);
}

static vug_status begin(shaping *s)
{
    vugi_fillable *f = s->f;
    const vugi_allocator *mem = &f->ctx->mem;
    size_t cells = vugi_grid_count(f->grid);
    vug_status status = vugi_uprights_find(&s->u, f->value, f->depth, f->most - f->grid->h,
        isfinite(f->outlet[0]) ? f->outlet : NULL);
    if (status)
        return status;
    s->liquid = vugi_alloc(mem, cells, 1);
    s->mark = vugi_alloc(mem, cells, 1);
    s->was = vugi_alloc(mem, cells, 1);
    s->level = vugi_alloc(mem, s->u.count, sizeof *s->level);
    s->need = vugi_alloc(mem, s->u.count, sizeof *s->need);
    s->parent = vugi_alloc(mem, s->u.count, sizeof *s->parent);
    s->order = vugi_alloc(mem, s->u.count, sizeof *s->order);
    if (!s->liquid || !s->mark || !s->was || !s->level || !s->need || !s->parent || !s->order)
        return vugi_fail_memory(f->ctx);
    status = vugi_lower(&s->u, NULL);
    if (status)
        return status;
    for (size_t i = 0; i < s->u.count; i++) {
        s->level[i] = s->u.span[i].level;
        s->parent[i] = s->u.span[i].parent;
    }
    s->reached = s->u.reached;
    memcpy(s->order, s->u.order, s->reached * sizeof *s->order);
    keep_waterlines(s);
    return look(s, 0);
}

/* ---- rounds ---------------------------------------------------------------------------- */

static void leave_as_it_was(shaping *s)
{
    for (size_t i = 0; i < s->u.count; i++)
        s->u.span[i].ceiling = s->u.span[i].hi;
    s->f->trapped[1] = s->f->trapped[0];
    s->f->bare[1] = s->f->bare[0];
    s->f->slope_deg = 0.0;
}

static vug_status lower_in_rounds(shaping *s)
{
    double asked = s->f->slope_deg;
    for (int i = 0; i < SLOPES; i++)
        for (int round = 0; round < ROUNDS; round++) {
            vugi_lowering how = {.slope = tan(VUGI_DEGREE * asked * SLOPE[i]),
                .clear = s->f->clear};
            s->f->slope_deg = asked * SLOPE[i];
            vug_status status = vugi_step(s->f->ctx,
                (double)(ROUNDS * i + round) / (ROUNDS * SLOPES));
            if (!status)
                status = vugi_lower(&s->u, &how);
            if (!status)
                status = vugi_lower_check(&s->u);
            if (!status)
                status = look(s, 1);
            if (status || s->f->bare[1] <= s->f->bare[0])
                return status;
            find_needs(s);
            spread_back(s);
            spread_across(s);
        }
    leave_as_it_was(s);
    return VUG_OK;
}

static void write_values(const shaping *s)
{
    const vugi_grid *g = s->f->grid;
    size_t plane = (size_t)g->n[0] * (size_t)g->n[1];
    s->f->added = 0.0;
    memset(s->f->lowered, 0, vugi_grid_count(g));
    for (size_t i = 0; i < s->u.count; i++) {
        const vugi_upright *span = s->u.span + i;
        if (span->ceiling >= span->hi)
            continue;
        s->f->added += (span->hi - fmax(span->lo, span->ceiling)) * g->h * g->h;
        for (int32_t k = span->from; k < span->to; k++) {
            size_t c = (size_t)k * plane + span->column;
            double value = height(g, k) - span->ceiling;
            if (value <= (double)s->f->value[c])
                continue;
            s->f->value[c] = (float)value;
            s->f->lowered[c] = 1;
        }
    }
}

vug_status vugi_fillable_shape(vugi_fillable *f)
{
    shaping s = {.f = f, .u = {.ctx = f->ctx, .grid = f->grid}};
    s.bare = (vugi_bare){.ctx = f->ctx, .mesh = f->skin, .grid = f->grid, .depth = f->most};
    vug_status status = begin(&s);
    if (!status)
        status = lower_in_rounds(&s);
    if (!status)
        write_values(&s);
    vugi_uprights_free(&s.u);
    vugi_bare_free(&s.bare);
    vugi_free(&f->ctx->mem, s.liquid);
    vugi_free(&f->ctx->mem, s.mark);
    vugi_free(&f->ctx->mem, s.was);
    vugi_free(&f->ctx->mem, s.level);
    vugi_free(&f->ctx->mem, s.need);
    vugi_free(&f->ctx->mem, s.parent);
    vugi_free(&f->ctx->mem, s.order);
    return status;
}
