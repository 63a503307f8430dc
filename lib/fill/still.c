/* SPDX-License-Identifier: MIT
 * The quasi-static fill on the gravity graph: fill, spill, merge (Barnes, Callaghan and Wickert
 * 2021), with overhangs, and with air that can be cut off (invasion percolation with trapping,
 * Masson 2016). At any time one pool rises, with one level; the next thing that happens to it is
 * known exactly, so the fill goes from event to event. */
#include "fill/still.h"

#include <math.h>
#include <string.h>

typedef struct run {
    const vugi_still *task;
    const vugi_scene *scene;
    const vugi_graph *g;
    vugi_history *history;
    vug_context *ctx;
    double *level, *before;
    double liquid, fuzz;
    vugi_links links;
    vugi_descent descent;
    bool *sealed;              /* of each arc: its air is cut off */
    bool *reached;             /* of each arc: liquid has come to this basin */
    bool *flooded;             /* of each node */
    bool *spilled, *covered;   /* of each mouth */
    bool *sill;                /* of each link: liquid has gone down here */
    bool *barred;              /* of each arc: liquid does not go back there */
    uint32_t *visited;         /* of each arc: pool visited in this walk */
    uint32_t *rising;          /* arcs whose surface rises next */
    size_t rising_count;
    bool stopped;
} run;

static bool is_full(const run *r, uint32_t arc)
{
    return r->level[arc] >= r->g->arc[arc].hi;
}

static bool is_vented(const run *r, uint32_t arc)
{
    return r->links.air[arc] != VUGI_NONE && r->links.vented[r->links.air[arc]];
}

static bool note(run *r, int32_t kind, uint32_t mouth, uint32_t node, double level, double volume)
{
    vugi_event e = {.kind = kind, .opening = -1, .liquid = r->liquid, .level = level,
        .volume = volume};
    if (mouth != VUGI_NONE) {
        e.opening = r->scene->mouth[mouth].opening;
        memcpy(e.point, r->scene->mouth[mouth].point, sizeof e.point);
    } else {
        vugi_span_point(r->g, r->g->node[node].span, r->g->node[node].z, e.point);
    }
    return vugi_history_event(r->history, e);
}

/* ---- air that gets cut off ------------------------------------------------ */

typedef struct cut_off {
    double volume, level;
    uint32_t top;              /* node: the highest place */
} cut_off;

static cut_off measure_air(const run *r, uint32_t air)
{
    cut_off c = {0.0, -INFINITY, VUGI_NONE};
    for (uint32_t a = 0; a < r->g->arc_count; a++) {
        if (r->links.air[a] != air)
            continue;
        const vugi_arc *arc = r->g->arc + a;
        c.volume += arc->volume - vugi_arc_volume(r->g, a, r->level[a]);
        if (r->links.pool[a] != VUGI_NONE)
            c.level = fmax(c.level, r->level[a]);
        if (c.top == VUGI_NONE || arc->hi > r->g->node[c.top].z)
            c.top = arc->to;
    }
    return c;
}

/* Air that is new to have no way out: a pocket, or nothing worth the name, which fills. */
static bool find_pockets(run *r, bool *again)
{
    *again = false;
    for (uint32_t air = 0; air < r->links.air_count; air++) {
        bool fresh = false;
        for (uint32_t a = 0; a < r->g->arc_count && !fresh; a++)
            fresh = r->links.air[a] == air && !r->links.vented[air] && !r->sealed[a];
        if (!fresh)
            continue;
        cut_off c = measure_air(r, air);
        bool nothing = r->liquid > 0.0 && c.volume <= 1e-9 * r->g->capacity;
        for (uint32_t a = 0; a < r->g->arc_count; a++) {
            if (r->links.air[a] != air)
                continue;
            r->sealed[a] = true;
            if (nothing) {
                r->liquid += r->g->arc[a].volume - vugi_arc_volume(r->g, a, r->level[a]);
                r->level[a] = r->g->arc[a].hi;
                *again = true;
            }
        }
        if (!nothing && r->liquid > 0.0
            && !note(r, VUG_EVENT_POCKET, VUGI_NONE, c.top, c.level, c.volume))
            return false;
    }
    return true;
}

/* ---- where the liquid goes ------------------------------------------------ */

/* The basin in which liquid from the pool ends up that goes over the node into the arc below it at link k. */
static vug_status go_down(run *r, uint32_t pool, uint32_t node, uint32_t k, uint32_t *basin)
{
    const vugi_graph *g = r->g;
    if (!r->sill[k]) {
        r->sill[k] = true;
        if (!note(r, VUG_EVENT_SILL, VUGI_NONE, node, g->node[node].z, 0.0))
            return vugi_fail_memory(r->ctx);
    }
    *basin = VUGI_NONE;
    if (g->sill[k] != VUGI_NONE) {
        for (uint32_t a = 0; a < g->arc_count; a++)
            r->barred[a] = r->links.pool[a] == pool;
        vug_status status = vugi_descend(r->ctx, &r->scene->mem, g, &r->descent, g->sill[k],
            r->barred, basin);
        if (status)
            return status;
    }
    if (*basin == VUGI_NONE)
        *basin = vugi_basin_below(g, g->link[k]);
    return VUG_OK;
}

/* A place where the pool runs over: a full arc under a node with another arc that is not full and
 * whose air has a way out. VUGI_NONE if there is none, else the link to go down by. */
static uint32_t overflow(const run *r, uint32_t pool, uint32_t *node)
{
    const vugi_graph *g = r->g;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (r->links.pool[a] != pool || !is_full(r, a))
            continue;
        const vugi_node *n = g->node + g->arc[a].to;
        uint32_t best = VUGI_NONE;
        for (uint32_t k = n->link; k < n->link + n->downs; k++) {
            uint32_t b = g->link[k];
            if (is_full(r, b) || !is_vented(r, b))
                continue;
            if (best == VUGI_NONE || (g->sill[k] != VUGI_NONE && g->sill[best] != VUGI_NONE
                    && g->columns->lo[g->sill[k]] < g->columns->lo[g->sill[best]]))
                best = k;
        }
        if (best != VUGI_NONE) {
            *node = g->arc[a].to;
            return best;
        }
    }
    return VUGI_NONE;
}

static void list_rising(run *r, uint32_t pool, uint32_t basin)
{
    r->rising_count = 0;
    for (uint32_t a = 0; a < r->g->arc_count; a++)
        if ((pool == VUGI_NONE ? a == basin : r->links.pool[a] == pool) && !is_full(r, a)
            && is_vented(r, a))
            r->rising[r->rising_count++] = a;
}

/* The pool over the inlet if it is under liquid, else the basin below it. */
static uint32_t start_basin(const run *r, uint32_t inlet)
{
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *p = r->scene->lip + i;
        if (p->mouth == inlet && r->level[p->arc] > p->z)
            return p->arc;
    }
    return r->scene->landing[inlet];
}

/* From an inlet to the pool that rises next: down, and over every sill where a pool is full. */
static vug_status follow_from(run *r, uint32_t inlet)
{
    const vugi_graph *g = r->g;
    uint32_t basin = start_basin(r, inlet), pool = VUGI_NONE, node;
    vug_status status;
    for (uint32_t a = 0; a < g->arc_count; a++)
        r->visited[a] = 0;
    r->rising_count = 0;
    while (basin != VUGI_NONE && !r->visited[basin]) {
        pool = r->links.pool[basin];
        for (uint32_t a = 0; a < g->arc_count; a++)
            if (a == basin || (pool != VUGI_NONE && r->links.pool[a] == pool))
                r->visited[a] = 1;
        if (!r->reached[basin]) {
            r->reached[basin] = true;
            if (is_vented(r, basin) && !note(r, VUG_EVENT_BASIN, VUGI_NONE, g->arc[basin].from,
                    g->arc[basin].lo, 0.0))
                return vugi_fail_memory(r->ctx);
        }
        uint32_t k = pool == VUGI_NONE ? VUGI_NONE : overflow(r, pool, &node);
        if (k == VUGI_NONE) {
            list_rising(r, pool, basin);
            return VUG_OK;
        }
        if ((status = go_down(r, pool, node, k, &basin)))
            return status;
    }
    return VUG_OK;
}

static vug_status follow(run *r)
{
    r->rising_count = 0;
    for (size_t i = 0; i < r->task->inlets && r->rising_count == 0; i++) {
        vug_status status = follow_from(r, r->task->inlet[i]);
        if (status)
            return status;
    }
    return VUG_OK;
}

/* ---- one step -------------------------------------------------------------- */

static bool is_rising(const run *r, uint32_t arc)
{
    for (size_t i = 0; i < r->rising_count; i++)
        if (r->rising[i] == arc)
            return true;
    return false;
}

/* Liquid is at a lip: it spills, and the mouth gets covered or the fill ends. */
static bool check_lips(run *r)
{
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *p = r->scene->lip + i;
        if (!r->task->liquid_open[p->mouth] || r->spilled[p->mouth]
            || r->level[p->arc] < p->z - r->fuzz || !is_rising(r, p->arc))
            continue;
        r->spilled[p->mouth] = true;
        r->stopped |= r->task->stop_at_spill;
        if (!note(r, VUG_EVENT_SPILL, p->mouth, VUGI_NONE, p->z, 0.0))
            return false;
    }
    return true;
}

/* Only the lowest surfaces rise; the others wait until these have come up to them. */
static double keep_lowest(run *r)
{
    double low = INFINITY, next = INFINITY;
    size_t n = 0;
    for (size_t i = 0; i < r->rising_count; i++)
        low = fmin(low, r->level[r->rising[i]]);
    for (size_t i = 0; i < r->rising_count; i++) {
        double z = r->level[r->rising[i]];
        if (z <= low + r->fuzz)
            r->rising[n++] = r->rising[i];
        else
            next = fmin(next, z);
    }
    r->rising_count = n;
    return next;
}

/* The level of the next event. */
static double next_level(run *r)
{
    double z = keep_lowest(r);
    for (size_t i = 0; i < r->rising_count; i++)
        z = fmin(z, r->g->arc[r->rising[i]].hi);
    for (size_t i = 0; i < r->scene->vent_count; i++) {
        const vugi_port *p = r->scene->vent + i;
        /* An opening at the very bottom passes air until the first drop. */
        double rim = fmax(p->z, r->g->arc[p->arc].lo + r->fuzz);
        if (r->task->air_open[p->mouth] && rim < z && rim > r->level[p->arc]
            && is_rising(r, p->arc))
            z = rim;
    }
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *p = r->scene->lip + i;
        if (r->task->liquid_open[p->mouth] && !r->spilled[p->mouth] && p->z < z
            && p->z > r->level[p->arc] + r->fuzz && is_rising(r, p->arc))
            z = p->z;
    }
    return z;
}

static double volume_to(const run *r, double z)
{
    double sum = 0.0;
    for (size_t i = 0; i < r->rising_count; i++) {
        uint32_t a = r->rising[i];
        sum += fmax(0.0, vugi_arc_volume(r->g, a, z) - vugi_arc_volume(r->g, a, r->level[a]));
    }
    return sum;
}

static void rise_to(run *r, double z)
{
    r->liquid += volume_to(r, z);
    for (size_t i = 0; i < r->rising_count; i++) {
        uint32_t a = r->rising[i];
        r->level[a] = fmax(r->level[a], fmin(z, r->g->arc[a].hi));
    }
}

/* The last of the liquid at hand: the level that it reaches below z. */
static void rise_with(run *r, double volume, double z)
{
    double lo = r->level[r->rising[0]], hi = z;
    for (int i = 0; i < 100 && hi > lo; i++) {
        double mid = 0.5 * (lo + hi);
        if (mid <= lo || mid >= hi)
            break;
        if (volume_to(r, mid) < volume)
            lo = mid;
        else
            hi = mid;
    }
    rise_to(r, lo);
    r->liquid = r->task->volume;
}

static bool check_rims(run *r)
{
    for (size_t i = 0; i < r->scene->vent_count; i++) {
        const vugi_port *p = r->scene->vent + i;
        if (!r->task->air_open[p->mouth] || r->covered[p->mouth] || r->level[p->arc] < p->z
            || r->level[p->arc] <= r->g->arc[p->arc].lo)
            continue;
        r->covered[p->mouth] = true;
        if (!note(r, VUG_EVENT_RIM, p->mouth, VUGI_NONE, p->z, 0.0))
            return false;
    }
    return true;
}

static bool check_merges(run *r)
{
    for (uint32_t n = 0; n < r->g->node_count; n++) {
        if (r->flooded[n] || !vugi_node_flooded(r->g, r->level, n))
            continue;
        r->flooded[n] = true;
        if (r->g->node[n].downs > 1
            && !note(r, VUG_EVENT_MERGE, VUGI_NONE, n, r->g->node[n].z, 0.0))
            return false;
    }
    return true;
}

/* What is connected now. Once more if air that is nothing worth the name has filled. */
static bool look(run *r)
{
    bool again = true;
    while (again) {
        vugi_links_find(r->scene, r->level, r->task->air_open, &r->links);
        if (!find_pockets(r, &again))
            return false;
    }
    return true;
}

static bool frame(run *r)
{
    bool ok = vugi_history_frame(r->history, r->g, r->before, r->level,
        (vugi_frame){.liquid = r->liquid, .together = true});
    memcpy(r->before, r->level, r->g->arc_count * sizeof *r->level);
    return ok;
}

/* Rises to the next event. *done: nothing rises any more, and history->end says why. */
static vug_status step(run *r, bool *done)
{
    vug_status status = follow(r);
    *done = true;
    if (status)
        return status;
    if (r->rising_count == 0) {
        bool vented = false;
        for (uint32_t i = 0; i < r->links.air_count; i++)
            vented |= r->links.vented[i];
        r->history->end = r->liquid <= 1e-6 * r->g->capacity ? VUG_END_BLOCKED : vented ? VUG_END_CUT_OFF : VUG_END_FULL;
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
    if (!check_lips(r) || !check_rims(r) || !check_merges(r) || !look(r) || !frame(r))
        return vugi_fail_memory(r->ctx);
    if (!*done && r->stopped) {
        r->history->end = VUG_END_SPILL;
        *done = true;
    }
    return VUG_OK;
}

static bool alloc_run(run *r)
{
    const vugi_allocator *mem = &r->scene->mem;
    size_t arcs = r->g->arc_count, mouths = r->scene->mouth_count;
    r->before = vugi_alloc(mem, arcs, sizeof *r->before);
    r->sealed = vugi_calloc(mem, arcs, sizeof *r->sealed);
    r->reached = vugi_calloc(mem, arcs, sizeof *r->reached);
    r->flooded = vugi_calloc(mem, r->g->node_count, sizeof *r->flooded);
    r->spilled = vugi_calloc(mem, mouths, sizeof *r->spilled);
    r->covered = vugi_calloc(mem, mouths, sizeof *r->covered);
    r->sill = vugi_calloc(mem, r->g->link_count, sizeof *r->sill);
    r->barred = vugi_alloc(mem, arcs, sizeof *r->barred);
    r->visited = vugi_alloc(mem, arcs, sizeof *r->visited);
    r->rising = vugi_alloc(mem, arcs, sizeof *r->rising);
    return vugi_links_alloc(mem, r->g, &r->links) && r->before && r->sealed && r->reached
        && r->flooded && r->spilled && r->covered && r->sill && r->barred && r->visited && r->rising;
}

static void free_run(run *r)
{
    const vugi_allocator *mem = &r->scene->mem;
    void *all[] = {r->before, r->sealed, r->reached, r->flooded, r->spilled, r->covered, r->sill,
        r->barred, r->visited, r->rising};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(mem, all[i]);
    vugi_links_free(mem, &r->links);
    vugi_descent_free(mem, &r->descent);
}

vug_status vugi_still_run(vug_context *ctx, const vugi_still *task, vugi_history *history,
    double *level)
{
    const vugi_scene *s = task->scene;
    run r = {.task = task, .scene = s, .g = &s->graph, .history = history, .ctx = ctx,
        .level = level, .fuzz = 1e-9 * fmax(1e-3, s->columns.zhi - s->columns.zlo)};
    vug_status status = VUG_OK;
    bool done = false;
    if (!alloc_run(&r)) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    for (uint32_t a = 0; a < r.g->arc_count; a++)
        level[a] = r.before[a] = r.g->arc[a].lo;
    if (!look(&r) || !frame(&r)) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    /* Each step fills an arc, covers a rim or a lip, or brings surfaces level. */
    size_t steps = 0, limit = 16 + 4 * (2 * r.g->arc_count + s->vent_count + s->lip_count);
    while (!done && !status) {
        status = step(&r, &done);
        if (!status && vugi_cancelled(ctx))
            status = vugi_step(ctx, 0.5);
        if (!status && ++steps > limit)
            status = vugi_fail(ctx, VUG_ERR_INTERNAL, "the fill did not end after %zu steps", steps);
    }
    if (!status && history->end == VUG_END_FULL
        && !note(&r, VUG_EVENT_FULL, task->inlet[0], VUGI_NONE, 0.0, 0.0))
        status = vugi_fail_memory(ctx);
done:
    free_run(&r);
    return status;
}
