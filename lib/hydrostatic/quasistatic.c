/* SPDX-License-Identifier: MIT
 * The quasi-static fill on the gravity graph: fill, spill, merge (Barnes, Callaghan and Wickert
 * 2021), with overhangs, and with air that can be cut off (invasion percolation with trapping,
 * Masson 2016). At any time one pool rises, with one level; the next thing that happens to it is
 * known exactly, so the fill goes from event to event. */
#include "hydrostatic/quasistatic.h"

#include "base/root.h"
#include "hydrostatic/run.h"

#include <math.h>
#include <string.h>

static bool is_full(const vugi_run *r, uint32_t arc)
{
    return r->level[arc] >= r->g->arc[arc].hi;
}

static bool is_vented(const vugi_run *r, uint32_t arc)
{
    return r->links.air[arc] != VUGI_NONE && r->links.vented[r->links.air[arc]];
}

static bool is_rising(const vugi_run *r, uint32_t arc)
{
    for (size_t i = 0; i < r->rising_count; i++)
        if (r->rising[i] == arc)
            return true;
    return false;
}

/* ---- where the liquid goes ------------------------------------------------ */

/* A place where the pool runs over: a full arc under a node with another arc that is not full and
 * whose air has a way out. VUGI_NONE if there is none, else the link to go down by. */
static uint32_t overflow(const vugi_run *r, uint32_t pool, uint32_t *node)
{
    const vugi_graph *g = r->g;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (r->links.pool[a] != pool || !is_full(r, a))
            continue;
        uint32_t k = vugi_run_overflow(r, a, true);
        if (k != VUGI_NONE) {
            *node = g->arc[a].to;
            return k;
        }
    }
    return VUGI_NONE;
}

/* Of a door, where its own is below that of what lies beside it too. */
static double floor_of(const vugi_run *r, const vugi_door *d)
{
    double z = d->lo;
    for (int k = 0; k < 2; k++) {
        const vugi_arc *a = r->g->arc + d->arc[k];
        if (r->g->node[a->from].downs == 0)
            z = fmax(z, a->lo);
    }
    return z;
}

/* Liquid comes to a door from a pool, and not from beyond it, where air has a way out. */
static bool comes_through(const vugi_run *r, uint32_t pool, const vugi_door *d, int from)
{
    return r->links.pool[d->arc[from]] == pool && is_vented(r, d->arc[1 - from])
        && vugi_door_reached(r->g, r->level, d, from)
        && (is_full(r, d->arc[from]) || r->level[d->arc[from]] >= floor_of(r, d))
        && !vugi_door_reached(r->g, r->level, d, 1 - from);
}

/* What lies beyond a door begins at its floor: nothing falls down there. */
static bool begins_level(const vugi_run *r, const vugi_door *d, int to)
{
    const vugi_arc *a = r->g->arc + d->arc[to];
    return r->g->node[a->from].downs == 0 && a->lo >= d->lo;
}

/* A door to a chamber in which liquid does not stand up to it yet: *basin, where what runs through it comes to rest, or
 * VUGI_NONE. */
static vug_status run_through(vugi_run *r, uint32_t pool, uint32_t *basin)
{
    *basin = VUGI_NONE;
    for (size_t i = 0; i < 2 * r->scene->door_count && *basin == VUGI_NONE; i++) {
        const vugi_door *d = r->scene->door + i / 2;
        const int from = (int)(i % 2), to = 1 - from;
        if (!comes_through(r, pool, d, from) || begins_level(r, d, to))
            continue;
        for (uint32_t a = 0; a < r->g->arc_count; a++)
            r->blocked[a] = r->links.pool[a] == pool;
        vug_status status = vugi_descend(r->ctx, &r->scene->mem, r->g, &r->descent, d->span[to],
            r->blocked, basin);
        if (status)
            return status;
        if (*basin == VUGI_NONE || r->visited[*basin])
            *basin = vugi_basin_below(r->g, d->arc[to]);
        if (r->visited[*basin])
            *basin = VUGI_NONE;
    }
    return VUG_OK;
}

static void list_rising(vugi_run *r, uint32_t pool, uint32_t basin)
{
    r->rising_count = 0;
    for (uint32_t a = 0; a < r->g->arc_count; a++)
        if ((pool == VUGI_NONE ? a == basin : r->links.pool[a] == pool) && !is_full(r, a)
            && is_vented(r, a) && r->level[a] < vugi_run_limit(r, a))
            r->rising[r->rising_count++] = a;
    for (size_t i = 0; i < 2 * r->scene->door_count && pool != VUGI_NONE; i++) {
        const vugi_door *d = r->scene->door + i / 2;
        const int from = (int)(i % 2);
        uint32_t a = d->arc[1 - from];
        if (comes_through(r, pool, d, from) && begins_level(r, d, 1 - from) && !is_rising(r, a)
            && r->level[a] < vugi_run_limit(r, a))
            r->rising[r->rising_count++] = a;
    }
}

/* Hollows that the graph leaves out can lead back to where the liquid came from: then any basin below
 * the arc that has not been visited, or the arc itself. */
static uint32_t other_basin(const vugi_run *r, uint32_t arc)
{
    const vugi_graph *g = r->g;
    while (g->node[g->arc[arc].from].downs > 0) {
        const vugi_node *n = g->node + g->arc[arc].from;
        uint32_t next = VUGI_NONE;
        for (uint32_t k = n->link; k < n->link + n->downs && next == VUGI_NONE; k++)
            if (!r->visited[g->link[k]])
                next = g->link[k];
        if (next == VUGI_NONE)
            break;
        arc = next;
    }
    return arc;
}

/* From a basin to the pool that rises next: down, and over every sill where a pool is full. */
static vug_status follow_from(vugi_run *r, uint32_t basin)
{
    const vugi_graph *g = r->g;
    uint32_t pool = VUGI_NONE, over = VUGI_NONE, node;
    vug_status status;
    for (uint32_t a = 0; a < g->arc_count; a++)
        r->visited[a] = 0;
    r->rising_count = 0;
    while (basin != VUGI_NONE && !r->visited[basin]) {
        pool = r->links.pool[basin];
        for (uint32_t a = 0; a < g->arc_count; a++)
            if (a == basin || (pool != VUGI_NONE && r->links.pool[a] == pool))
                r->visited[a] = 1;
        if (is_vented(r, basin) && (status = vugi_run_reach(r, basin)))
            return status;
        r->reached[basin] = true;
        uint32_t k = pool == VUGI_NONE ? VUGI_NONE : overflow(r, pool, &node), through = VUGI_NONE;
        if (k == VUGI_NONE && pool != VUGI_NONE && (status = run_through(r, pool, &through)))
            return status;
        if (through != VUGI_NONE) {
            over = pool;
            basin = through;
            continue;
        }
        if (k == VUGI_NONE) {
            list_rising(r, pool, basin);
            if (r->rising_count == 0 && over != VUGI_NONE && r->task->weighs)
                list_rising(r, over, VUGI_NONE); /* nothing makes room there */
            return VUG_OK;
        }
        over = pool;
        if ((status = vugi_run_go_down(r, pool, node, k, &basin)))
            return status;
        if (basin == VUGI_NONE || r->visited[basin])
            basin = other_basin(r, g->link[k]);
    }
    return VUG_OK;
}

static vug_status follow(vugi_run *r)
{
    r->rising_count = 0;
    if (r->task->source)
        return follow_from(r, r->task->source->basin);
    for (size_t i = 0; i < r->task->inlets && r->rising_count == 0; i++) {
        vug_status status = follow_from(r, vugi_run_start(r, r->task->inlet[i]));
        if (status)
            return status;
    }
    return VUG_OK;
}

/* ---- one step -------------------------------------------------------------- */

/* Liquid is at a lip: it spills, and the mouth gets covered or the fill ends. */
static bool check_lips(vugi_run *r)
{
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *p = r->scene->lip + i;
        if (vugi_run_can_spill(r, p) && r->level[p->arc] >= p->z - r->tolerance
            && is_rising(r, p->arc) && !vugi_run_spill(r, p))
            return false;
    }
    return true;
}

/* Only the lowest surfaces rise; the others wait until these have come up to them. */
static double keep_lowest(vugi_run *r)
{
    double low = INFINITY, next = INFINITY;
    size_t n = 0;
    for (size_t i = 0; i < r->rising_count; i++)
        low = fmin(low, r->level[r->rising[i]]);
    for (size_t i = 0; i < r->rising_count; i++) {
        double z = r->level[r->rising[i]];
        if (z <= low + r->tolerance)
            r->rising[n++] = r->rising[i];
        else
            next = fmin(next, z);
    }
    r->rising_count = n;
    return next;
}

/* The level at which what rises in an arc comes to a door and may run through it. */
static double next_door(const vugi_run *r, uint32_t arc)
{
    double z = INFINITY;
    for (size_t i = 0; i < r->scene->door_count; i++) {
        const vugi_door *d = r->scene->door + i;
        bool at = d->arc[0] == arc || d->arc[1] == arc;
        if (at && floor_of(r, d) > r->level[arc])
            z = fmin(z, floor_of(r, d));
    }
    return z;
}

/* The level of the next event. */
static double next_level(vugi_run *r)
{
    double z = keep_lowest(r);
    for (size_t i = 0; i < r->rising_count; i++) {
        uint32_t a = r->rising[i];
        z = fmin(fmin(z, next_door(r, a)), fmin(vugi_run_next(r, a), vugi_run_limit(r, a)));
    }
    return z;
}

static double volume_to(const vugi_run *r, double z)
{
    double sum = 0.0;
    for (size_t i = 0; i < r->rising_count; i++) {
        uint32_t a = r->rising[i];
        sum += fmax(0.0, vugi_arc_volume(r->g, a, z) - vugi_arc_volume(r->g, a, r->level[a]));
    }
    return sum;
}

static void rise_to(vugi_run *r, double z)
{
    r->liquid += volume_to(r, z);
    for (size_t i = 0; i < r->rising_count; i++) {
        uint32_t a = r->rising[i];
        r->level[a] = fmax(r->level[a], fmin(z, r->g->arc[a].hi));
    }
}

typedef struct rise_search {
    const vugi_run *r;
    double volume;
} rise_search;

static bool takes_less(void *user, double z)
{
    const rise_search *s = user;
    return volume_to(s->r, z) < s->volume;
}

/* Where one arc rises alone its own volumes tell nearly where to: little is left to halve. */
static void enclose(const vugi_run *r, rise_search *search, double *lo, double *hi)
{
    const uint32_t a = r->rising[0];
    if (r->rising_count > 1)
        return;
    const double margin = 1e-12 * (*hi - *lo),
                 at = vugi_arc_level(r->g, a,
                     vugi_arc_volume(r->g, a, r->level[a]) + search->volume);
    if (at - margin > *lo && takes_less(search, at - margin))
        *lo = at - margin;
    if (at + margin < *hi && !takes_less(search, at + margin))
        *hi = at + margin;
}

/* The last of the liquid at hand: the level that it reaches below z. */
static void rise_with(vugi_run *r, double volume, double z)
{
    double lo = r->level[r->rising[0]], hi = z;
    rise_search search = {r, volume};
    enclose(r, &search, &lo, &hi);
    vugi_halve(takes_less, &search, &lo, &hi, 100, 0.0);
    rise_to(r, lo);
    r->liquid = r->task->volume;
}

/* Rises to the next event. *done: nothing rises any more, and history->end says why. */
static vug_status step(vugi_run *r, bool *done)
{
    vug_status status = follow(r);
    *done = true;
    if (status)
        return status;
    if (r->rising_count == 0) {
        r->history->end = vugi_run_end(r);
        return VUG_OK;
    }
    double z = next_level(r), volume = volume_to(r, z), left = r->task->volume - r->liquid;
    if (!check_lips(r))
        return vugi_fail_memory(r->ctx);
    if (r->stopped) {
        r->history->end = VUG_END_SPILL;
        return VUG_OK;
    }
    if (volume >= left) {
        rise_with(r, left, z);
        r->history->end = VUG_END_SUPPLY;
    } else {
        rise_to(r, z);
        *done = false;
    }
    if (!check_lips(r) || !vugi_run_rims(r) || !vugi_run_merges(r) || !vugi_run_look(r)
        || !vugi_run_frame(r, (vugi_frame){.liquid = r->liquid, .together = true}))
        return vugi_fail_memory(r->ctx);
    if (!*done && r->stopped) {
        r->history->end = VUG_END_SPILL;
        *done = true;
    }
    return VUG_OK;
}

vug_status vugi_quasistatic_run(vug_context *ctx, const vugi_fill_task *task, vugi_history *history,
    double *level)
{
    const vugi_scene *s = task->scene;
    vugi_run r =
        {.task = task, .scene = s, .g = &s->graph, .history = history, .ctx = ctx, .level = level};
    vug_status status = VUG_OK;
    bool done = false;
    if (!vugi_run_alloc(&r)) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    vugi_run_begin(&r);
    if (!vugi_run_look(&r)
        || !vugi_run_frame(&r, (vugi_frame){.liquid = r.liquid, .together = true})) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    /* Each step fills an arc, covers a rim or a lip, or brings surfaces level. */
    size_t stops = 2 * r.g->arc_count + 4 * s->door_count + s->vent_count + s->lip_count;
    size_t steps = 0, limit = 16 + 4 * stops;
    while (!done && !status) {
        status = step(&r, &done);
        if (!status && vugi_cancelled(ctx))
            status = vugi_step(ctx, 0.5);
        if (!status && ++steps > limit)
            status = vugi_fail(ctx, VUG_ERR_INTERNAL, "the fill did not end after %zu steps",
                steps);
    }
    if (!status && history->end == VUG_END_FULL && !task->source
        && !vugi_run_note(&r, VUG_EVENT_FULL, task->inlet[0], VUGI_NONE, 0.0, 0.0))
        status = vugi_fail_memory(ctx);
done:
    vugi_run_free(&r);
    return status;
}
