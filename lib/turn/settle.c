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
    uint64_t
        way; /* packed: slab, place of the arc that it comes from, basin: in that order they fall */
    uint64_t grains; /* of its volume: their sum is the same in whatever order */
} batch;

/* All that moves is so many. */
static const double GRAINS = 0x1p62;

/* Arcs, with one more for none, and basins in the lower bits of a way. */
enum { ARC_BITS = 29 };
static_assert(SLABS <= 1 << (64 - 2 * ARC_BITS), "slabs fit above arcs and basins");

typedef struct settling {
    vug_context *ctx;
    const vugi_allocator *mem;
    vugi_scene *scene; /* the other way up if air moves */
    vugi_descent descent;
    uint32_t *landing; /* of each span: basin, or VUGI_UNKNOWN */
    batch *list;
    size_t count;
    double grain;               /* mm3 */
    bool *closed;               /* of each mouth: false */
    uint32_t *place, *in_place; /* of each arc, and of none at the end: place by height, and back */
    double *level;
    double placed, inside; /* volume that should be inside by now, and that is */
} settling;

/* ---- where each piece lands ------------------------------------------------------ */

/* Lower arcs come first; pieces in none come with those at height 0. */
static int by_floor(const void *a, const void *b, const void *user)
{
    const uint32_t x = *(const uint32_t *)a, y = *(const uint32_t *)b;
    const vugi_graph *g = user;
    const double p = x < g->arc_count ? g->arc[x].lo : 0.0,
                 q = y < g->arc_count ? g->arc[y].lo : 0.0;
    return p != q ? (p > q) - (p < q) : (x > y) - (x < y);
}

static bool place_arcs(settling *s)
{
    const vugi_graph *g = &s->scene->graph;
    const uint32_t count = (uint32_t)g->arc_count + 1;
    assert(count < 1u << ARC_BITS);
    for (uint32_t i = 0; i < count; i++)
        s->in_place[i] = i;
    if (!vugi_sort(s->mem, s->in_place, count, sizeof *s->in_place, by_floor, g))
        return false;
    for (uint32_t i = 0; i < count; i++)
        s->place[s->in_place[i]] = i;
    return true;
}

/* VUGI_NONE: in none. */
static uint32_t arc_of(const settling *s, const batch *b)
{
    const uint32_t arc = s->in_place[b->way >> ARC_BITS & ((1u << ARC_BITS) - 1)];
    return arc < s->scene->graph.arc_count ? arc : VUGI_NONE;
}

static uint32_t basin_of(const batch *b)
{
    return (uint32_t)(b->way & ((1u << ARC_BITS) - 1));
}

static uint64_t way_of(const settling *s, uint32_t slab, uint32_t from, uint32_t basin)
{
    const uint32_t arc = from == VUGI_NONE ? (uint32_t)s->scene->graph.arc_count : from;
    return ((uint64_t)slab << ARC_BITS | s->place[arc]) << ARC_BITS | basin;
}

/* Where each piece comes from and where it goes. query: the arc that it is in, of the scene the way up that it has. */
static vug_status find_ways(settling *s, const vugi_scene *scene, bool air, const vugi_drop *drop,
    const vugi_query *query)
{
    const vugi_columns *c = &scene->columns;
    double height = fmax(c->zhi - c->zlo, 1e-9);
    for (size_t i = 0; i < s->count; i++) {
        const uint32_t from = vugi_graph_arc(&scene->graph, query[i].arc, query[i].z, false);
        uint32_t span = drop[i].span, column = scene->graph.sweep.column[span];
        double below = air ? c->zhi - drop[i].z : drop[i].z - c->zlo;
        span = air ? vugi_mirror_span(c, column, span) : span;
        vug_status status = vugi_descend_known(s->ctx, s->mem, &s->scene->graph, &s->descent, span,
            s->landing);
        if (status)
            return status;
        uint32_t basin = s->landing[span];
        if (basin == VUGI_NONE)
            basin = vugi_basin_below(&s->scene->graph, from == VUGI_NONE ? 0 : from);
        const uint32_t slab = (uint32_t)fmax(0.0, fmin(SLABS - 1.0, below / height * SLABS));
        s->list[i] = (batch){way_of(s, slab, from, basin),
            (uint64_t)(drop[i].volume / s->grain + 0.5)};
    }
    return VUG_OK;
}

static vug_status find_batches(settling *s, const vugi_scene *scene, bool air,
    const vugi_drop *drop)
{
    vugi_query *query = vugi_alloc(s->mem, s->count, sizeof *query);
    if (!query || !place_arcs(s)) {
        vugi_free(s->mem, query);
        return vugi_fail_memory(s->ctx);
    }
    for (size_t i = 0; i < s->count; i++)
        query[i] = (vugi_query){drop[i].span, VUGI_NONE, drop[i].z, .below = false};
    vug_status status = vugi_sweep_ask(s->ctx, s->mem, &scene->graph.sweep, query, s->count);
    if (!status)
        status = find_ways(s, scene, air, drop, query);
    vugi_free(s->mem, query);
    return status;
}

static int by_way(const void *a, const void *b, const void *user)
{
    const batch *x = a, *y = b;
    (void)user;
    return (x->way > y->way) - (x->way < y->way);
}

/* In a table of places in the list: where this way has its own, or gets it. */
static uint32_t *slot_of(const settling *s, uint32_t *slot, size_t mask, uint64_t way)
{
    size_t at = (size_t)(way * UINT64_C(0x9E3779B97F4A7C15) >> 32) & mask;
    while (slot[at] != VUGI_NONE && s->list[slot[at]].way != way)
        at = (at + 1) & mask;
    return slot + at;
}

/* Pieces that start and land together become one. In a slab the lower arcs come first. */
static bool join(settling *s)
{
    uint32_t n = 0;
    size_t slots = 2;
    while (slots < 2 * s->count)
        slots *= 2;
    uint32_t *slot = vugi_alloc(s->mem, slots, sizeof *slot);
    if (!slot)
        return false;
    memset(slot, 0xff, slots * sizeof *slot);
    for (size_t i = 0; i < s->count; i++) {
        const batch b = s->list[i];
        uint32_t *at = slot_of(s, slot, slots - 1, b.way);
        if (*at != VUGI_NONE) {
            s->list[*at].grains += b.grains;
            continue;
        }
        s->list[n] = b;
        *at = n++;
    }
    vugi_free(s->mem, slot);
    s->count = n;
    return vugi_sort(s->mem, s->list, n, sizeof *s->list, by_way, NULL);
}

/* ---- falling ------------------------------------------------------------------------- */

static vug_status pour(settling *s, uint32_t basin, uint32_t from)
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
    s->inside = vugi_levels_volume(g, s->level);
    assert(status || s->inside <= s->placed + 1e-9 * g->capacity);
    return status;
}

/* Is there more than has found room? */
static bool left(const settling *s)
{
    return s->placed - s->inside > 1e-13 * s->scene->graph.capacity;
}

static vug_status fall(settling *s)
{
    vug_status status = VUG_OK;
    s->inside = vugi_levels_volume(&s->scene->graph, s->level);
    for (size_t i = 0; i < s->count && !status; i++) {
        const batch *b = s->list + i;
        s->placed += s->grain * (double)b->grains;
        if (left(s))
            status = pour(s, basin_of(b), arc_of(s, b));
        if (!status && left(s))
            status = pour(s, basin_of(b), VUGI_NONE);
    }
    for (uint32_t a = 0; a < s->scene->graph.arc_count && left(s) && !status; a++)
        status = pour(s, a, VUGI_NONE);
    return status;
}

static bool alloc_settling(settling *s)
{
    size_t spans = s->scene->columns.count + 1, arcs = s->scene->graph.arc_count + 1;
    s->landing = vugi_alloc(s->mem, spans, sizeof *s->landing);
    s->list = vugi_alloc(s->mem, s->count, sizeof *s->list);
    s->place = vugi_alloc(s->mem, arcs, sizeof *s->place);
    s->in_place = vugi_alloc(s->mem, arcs, sizeof *s->in_place);
    s->closed = vugi_calloc(s->mem, s->scene->mouth_count, sizeof *s->closed);
    if (!s->landing || !s->list || !s->place || !s->in_place || !s->closed)
        return false;
    for (size_t i = 0; i < spans; i++)
        s->landing[i] = VUGI_UNKNOWN;
    return true;
}

vug_status vugi_drops_settle(vug_context *ctx, vugi_scene *scene, bool air, const vugi_drop *drop,
    size_t count, double *level)
{
    settling s = {.ctx = ctx, .mem = &scene->mem, .level = level, .count = count};
    vug_status status = VUG_OK;
    for (size_t i = 0; i < count; i++)
        s.grain += drop[i].volume / GRAINS;
    s.grain = s.grain > 0.0 ? s.grain : 1.0;
    if (air)
        status = vugi_scene_mirror(ctx, scene, &s.scene);
    else
        s.scene = vugi_scene_share(scene);
    if (status)
        return status;
    for (uint32_t a = 0; a < s.scene->graph.arc_count; a++)
        level[a] = s.scene->graph.arc[a].lo;
    if (!alloc_settling(&s))
        status = vugi_fail_memory(ctx);
    if (!status)
        status = find_batches(&s, scene, air, drop);
    if (!status)
        status = join(&s) ? fall(&s) : vugi_fail_memory(ctx);
    for (uint32_t a = 0; a < scene->graph.arc_count && air; a++)
        level[a] = -level[a];
    vugi_descent_free(s.mem, &s.descent);
    vugi_free(s.mem, s.landing);
    vugi_free(s.mem, s.list);
    vugi_free(s.mem, s.place);
    vugi_free(s.mem, s.in_place);
    vugi_free(s.mem, s.closed);
    vugi_scene_free(s.scene);
    return status;
}
