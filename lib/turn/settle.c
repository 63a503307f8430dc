/* SPDX-License-Identifier: MIT
 * What is on the move in a closed cavity comes to rest: it falls, from the lowest piece up, each to the
 * basin below it, fills that and runs over its sill. What it pushes aside takes its place where it came
 * from, so a leg that is cut off from there keeps what it holds. Air is liquid in the scene upside
 * down. */
#include "turn/settle.h"

#include "base/sort.h"
#include "turn/drops.h"

#include "gravity/mirror.h"
#include "gravity/trace.h"
#include "hydrostatic/quasistatic.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SLABS = 64 }; /* of the height: those that start in one fall together */

typedef struct batch {
    uint32_t slab, from, basin;
    double lo; /* of the arc that it comes from */
    double volume;
} batch;

typedef struct settling {
    vug_context *ctx;
    const vugi_allocator *mem;
    vugi_scene *scene; /* the other way up if air moves */
    vugi_descent descent;
    uint32_t *landing; /* of each span: basin, or VUGI_UNKNOWN */
    batch *list;
    size_t count;
    bool *closed; /* of each mouth: false */
    double *level;
    double placed; /* volume that should be inside by now */
} settling;

/* ---- where each piece lands ------------------------------------------------------ */

/* Which arcs the pieces lie in. */
static vug_status find_arcs(settling *s, const vugi_scene *scene, const vugi_drop *drop,
    size_t count)
{
    vugi_query *query = vugi_alloc(s->mem, count, sizeof *query);
    if (!query)
        return vugi_fail_memory(s->ctx);
    for (size_t i = 0; i < count; i++)
        query[i] = (vugi_query){drop[i].span, VUGI_NONE, drop[i].z, .below = false};
    vug_status status = vugi_sweep_ask(s->ctx, s->mem, &scene->graph.sweep, query, count);
    for (size_t i = 0; i < count && !status; i++)
        s->list[i].from = vugi_graph_arc(&scene->graph, query[i].arc, query[i].z, false);
    vugi_free(s->mem, query);
    return status;
}

static vug_status find_basins(settling *s, const vugi_scene *scene, bool air, const vugi_drop *drop)
{
    const vugi_columns *c = &scene->columns;
    double height = fmax(c->zhi - c->zlo, 1e-9);
    for (size_t i = 0; i < s->count; i++) {
        batch *b = s->list + i;
        uint32_t span = drop[i].span, column = scene->graph.sweep.column[span];
        double below = air ? c->zhi - drop[i].z : drop[i].z - c->zlo;
        span = air ? vugi_mirror_span(c, column, span) : span;
        vug_status status = vugi_descend_known(s->ctx, s->mem, &s->scene->graph, &s->descent, span,
            s->landing);
        if (status)
            return status;
        b->basin = s->landing[span];
        if (b->basin == VUGI_NONE)
            b->basin = vugi_basin_below(&s->scene->graph, b->from == VUGI_NONE ? 0 : b->from);
        b->slab = (uint32_t)fmax(0.0, fmin(SLABS - 1.0, below / height * SLABS));
        b->volume = drop[i].volume;
        b->lo = b->from == VUGI_NONE ? 0.0 : s->scene->graph.arc[b->from].lo;
    }
    return VUG_OK;
}

static int by_slab(const void *a, const void *b, const void *user)
{
    const batch *x = a, *y = b;
    (void)user;
    if (x->slab == y->slab && x->lo != y->lo)
        return x->lo < y->lo ? -1 : 1;
    const uint32_t p[3] = {x->slab, x->from, x->basin}, q[3] = {y->slab, y->from, y->basin};
    for (int k = 0; k < 3; k++)
        if (p[k] != q[k])
            return p[k] < q[k] ? -1 : 1;
    return (x->volume > y->volume) - (x->volume < y->volume);
}

/* Pieces that start and land together become one. In a slab the lower arcs come first. */
static bool join(settling *s)
{
    size_t n = 0;
    if (!vugi_sort(s->mem, s->list, s->count, sizeof *s->list, by_slab, NULL))
        return false;
    for (size_t i = 0; i < s->count; i++) {
        batch *last = s->list + n - 1, *b = s->list + i;
        if (n > 0 && last->slab == b->slab && last->from == b->from && last->basin == b->basin)
            last->volume += b->volume;
        else
            s->list[n++] = *b;
    }
    assert(n <= s->count);
    s->count = n;
    return true;
}

/* ---- falling ------------------------------------------------------------------------- */

/* *left: what found no room. */
static vug_status pour(settling *s, uint32_t basin, uint32_t from, double *left)
{
    assert(basin < s->scene->graph.arc_count);
    assert(s->placed >= 0.0);
    const vugi_graph *g = &s->scene->graph;
    vugi_history history = {.mem = *s->mem};
    vugi_source source = {basin, from};
    vugi_fill_task task = {.scene = s->scene,
        .air_open = s->closed,
        .liquid_open = s->closed,
        .volume = s->placed,
        .start = s->level,
        .source = &source};
    vug_status status = vugi_quasistatic_run(s->ctx, &task, &history, s->level);
    vugi_history_free(&history);
    assert(status || vugi_levels_volume(g, s->level) <= s->placed + 1e-9 * g->capacity);
    *left = s->placed - vugi_levels_volume(g, s->level);
    return status;
}

static vug_status fall(settling *s)
{
    const vugi_graph *g = &s->scene->graph;
    const double nothing = 1e-13 * g->capacity;
    double left = 0.0;
    vug_status status = VUG_OK;
    for (size_t i = 0; i < s->count && !status; i++) {
        const batch *b = s->list + i;
        s->placed += b->volume;
        if (s->placed - vugi_levels_volume(g, s->level) <= nothing)
            continue;
        status = pour(s, b->basin, b->from, &left);
        if (!status && left > nothing)
            status = pour(s, b->basin, VUGI_NONE, &left);
    }
    for (uint32_t a = 0; a < g->arc_count && left > nothing && !status; a++)
        status = pour(s, a, VUGI_NONE, &left);
    return status;
}

static bool alloc_settling(settling *s, size_t count)
{
    size_t spans = s->scene->columns.count + 1;
    s->landing = vugi_alloc(s->mem, spans, sizeof *s->landing);
    s->list = vugi_calloc(s->mem, count, sizeof *s->list);
    s->closed = vugi_calloc(s->mem, s->scene->mouth_count, sizeof *s->closed);
    if (!s->landing || !s->list || !s->closed)
        return false;
    for (size_t i = 0; i < spans; i++)
        s->landing[i] = VUGI_UNKNOWN;
    s->count = count;
    return true;
}

vug_status vugi_drops_settle(vug_context *ctx, vugi_scene *scene, bool air, const vugi_drop *drop,
    size_t count, double *level)
{
    settling s = {.ctx = ctx, .mem = &scene->mem, .level = level};
    vug_status status = VUG_OK;
    if (air)
        status = vugi_scene_mirror(ctx, scene, &s.scene);
    else
        s.scene = vugi_scene_share(scene);
    if (status)
        return status;
    for (uint32_t a = 0; a < s.scene->graph.arc_count; a++)
        level[a] = s.scene->graph.arc[a].lo;
    if (!alloc_settling(&s, count))
        status = vugi_fail_memory(ctx);
    if (!status && !(status = find_arcs(&s, scene, drop, count))
        && !(status = find_basins(&s, scene, air, drop))) {
        status = join(&s) ? fall(&s) : vugi_fail_memory(ctx);
    }
    for (uint32_t a = 0; a < scene->graph.arc_count && air; a++)
        level[a] = -level[a];
    vugi_descent_free(s.mem, &s.descent);
    vugi_free(s.mem, s.landing);
    vugi_free(s.mem, s.list);
    vugi_free(s.mem, s.closed);
    vugi_scene_free(s.scene);
    return status;
}
