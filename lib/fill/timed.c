/* SPDX-License-Identifier: MIT
 * Filling in time: steps of the network from event to event. At a rate that goes to zero the heads
 * vanish and what is left is the fill without hurry. */
#include "fill/network.h"

#include "flow/flow.h"

#include <math.h>
#include <string.h>

enum { STEPS = 400, RETRIES = 24 };

static const double level_tolerance = 0.05; /* mm: level to the eye */

typedef struct timing {
    vugi_network n;
    const vugi_timed *task;
    size_t stamped;
    double time, lag, peak;
    double carry;              /* liquid let in but not in any arc yet, mm3 */
} timing;

/* ---- one step --------------------------------------------------------------------- */

/* Volume of a tank at the next thing that happens to it as it rises. *z: that level. */
static double next_event(const vugi_network *n, uint32_t a, double *z)
{
    const vugi_run *r = &n->r;
    double level = r->level[a];
    *z = r->g->arc[a].hi;
    for (size_t i = 0; i < r->scene->vent_count; i++) {
        const vugi_port *p = r->scene->vent + i;
        double rim = fmax(p->z, r->g->arc[a].lo + r->fuzz);
        if (p->arc == a && r->task->air_open[p->mouth] && rim > level && rim < *z)
            *z = rim;
    }
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *p = r->scene->lip + i;
        if (p->arc == a && r->task->liquid_open[p->mouth] && !r->spilled[p->mouth]
            && p->z > level + r->fuzz && p->z < *z)
            *z = p->z;
    }
    return vugi_arc_volume(r->g, a, *z);
}

/* Part of the step after which the first tank comes to its next event; 1 or more if none does. */
static double first_part(const vugi_network *n)
{
    double part = INFINITY, z;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++) {
        double gain = n->next[a] - n->volume[a];
        if (n->end[a] == VUGI_END_TANK && gain > 0.0)
            part = fmin(part, (next_event(n, a, &z) - n->volume[a]) / gain);
    }
    return part;
}

/* Liquid that is over where an arc has just filled fills its neighbours under the node too, if it is enough: else
 * two arcs that leak a little could take turns for ever. */
static void top_up(timing *t, const vugi_node *node)
{
    vugi_network *n = &t->n;
    const vugi_graph *g = n->r.g;
    double lack = 0.0;
    bool any = false;
    for (uint32_t k = node->link; k < node->link + node->downs; k++) {
        uint32_t a = g->link[k];
        lack += g->arc[a].volume - n->volume[a];
        any |= n->r.level[a] >= g->arc[a].hi && n->end[a] != VUGI_END_NONE;
    }
    if (!any || node->downs < 2 || lack <= 0.0 || lack > t->carry)
        return;
    for (uint32_t k = node->link; k < node->link + node->downs; k++) {
        n->volume[g->link[k]] = g->arc[g->link[k]].volume;
        n->r.level[g->link[k]] = g->arc[g->link[k]].hi;
    }
    t->carry -= lack;
}

static void accept(timing *t, double dt)
{
    vugi_network *n = &t->n;
    const vugi_graph *g = n->r.g;
    double slack = 1e-9 * g->capacity, z;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (n->over[a] != VUGI_NONE)
            n->press[a] = n->cushion[n->over[a]].excess;
        if (n->end[a] != VUGI_END_TANK)
            continue;
        double limit = next_event(n, a, &z);
        if (n->next[a] >= limit - slack && n->next[a] >= n->volume[a]) {
            t->carry += n->next[a] - limit;
            n->r.level[a] = z;
            n->volume[a] = limit;
        } else {
            n->volume[a] = fmax(0.0, n->next[a]);
            n->r.level[a] = vugi_arc_level(g, a, n->volume[a]);
        }
    }
    for (uint32_t i = 0; i < g->node_count; i++)
        top_up(t, g->node + i);
    t->time += dt;
    n->r.liquid = vugi_levels_volume(g, n->r.level);
}

static bool is_open_surface(const vugi_network *n, uint32_t a)
{
    return n->end[a] == VUGI_END_TANK && n->r.links.pool[a] != VUGI_NONE && n->over[a] != VUGI_NONE
        && n->over[a] < n->r.links.air_count && n->r.links.vented[n->over[a]];
}

/* Greatest difference of level between surfaces of one pool under open air. */
static double lag_now(const vugi_network *n)
{
    double lag = 0.0;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        for (uint32_t b = 0; b < a && is_open_surface(n, a); b++)
            if (is_open_surface(n, b) && n->r.links.pool[b] == n->r.links.pool[a])
                lag = fmax(lag, fabs(n->r.level[a] - n->r.level[b]));
    return lag;
}

/* The arc at the inlet under liquid, else that with air at it; VUGI_NONE: neither. */
static uint32_t inlet_arc(const vugi_network *n, bool *under)
{
    const vugi_scene *s = n->r.scene;
    uint32_t arc = VUGI_NONE;
    *under = false;
    for (size_t i = 0; i < s->lip_count; i++) {
        const vugi_port *p = s->lip + i;
        if (p->mouth != n->r.task->inlet[0])
            continue;
        if (n->r.level[p->arc] > p->z) {
            *under = true;
            return p->arc;
        }
        arc = n->r.links.air[p->arc] != VUGI_NONE ? p->arc : arc;
    }
    return arc;
}

static double inlet_pressure(const vugi_network *n)
{
    const vugi_mouth *m = n->r.scene->mouth + n->r.task->inlet[0];
    bool under;
    uint32_t arc = inlet_arc(n, &under);
    if (arc == VUGI_NONE)
        return 0.0;
    double head = n->press[arc];
    if (under) {
        uint32_t to = n->r.g->arc[arc].to;
        head = n->end[arc] != VUGI_END_NONE || n->unknown[to] == VUGI_NONE
            ? n->r.level[arc] + n->press[arc] : n->head[to];
        head -= 0.5 * (m->top + m->lip);
    }
    return fmax(0.0, n->task->fluid->density_kg_m3 * VUGI_G * head * VUGI_MM);
}

static bool check_lips(vugi_network *n)
{
    vugi_run *r = &n->r;
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *p = r->scene->lip + i;
        bool wet = r->level[p->arc] > r->before[p->arc]
            || (n->end[p->arc] == VUGI_END_TANK && n->flow[p->arc] + n->source[p->arc] > 0.0);
        if (!r->task->liquid_open[p->mouth] || r->spilled[p->mouth]
            || r->level[p->arc] < p->z - r->fuzz || !wet)
            continue;
        r->spilled[p->mouth] = true;
        r->stopped |= r->task->stop_at_spill;
        if (!vugi_run_note(r, VUG_EVENT_SPILL, p->mouth, VUGI_NONE, p->z, 0.0))
            return false;
    }
    return true;
}

/* Events noted since the step began get its time. */
static void stamp(timing *t)
{
    vugi_history *h = t->n.r.history;
    for (; t->stamped < h->event_count; t->stamped++)
        h->event[t->stamped].time = t->time;
}

static bool record(timing *t)
{
    vugi_network *n = &t->n;
    bool ok = check_lips(n) && vugi_run_rims(&n->r) && vugi_run_merges(&n->r);
    if (n->bared != VUGI_NONE)
        vugi_run_bare(&n->r, n->bared, n->press);
    ok = ok && vugi_run_look(&n->r);
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        n->volume[a] = vugi_arc_volume(n->r.g, a, n->r.level[a]);
    stamp(t);
    t->lag = fmax(t->lag, lag_now(n));
    double pressure = inlet_pressure(n);
    t->peak = fmax(t->peak, pressure);
    return ok && vugi_run_frame(&n->r, (vugi_frame){.liquid = n->r.liquid, .time = t->time,
        .pressure = pressure});
}

/* The shortest step, as a part of the usual one: events that follow each other more closely, as when two arcs
 * take turns in running over, are taken together, the more of them there are. */
static double least_part(const timing *t)
{
    size_t steps = t->n.r.history->frame_count;
    return steps < 10 * STEPS ? 0.0025 : steps < 20 * STEPS ? 0.025 : 0.25;
}

/* Moves on by at most dt, to the first event in it. */
static vug_status advance(timing *t, uint32_t fed, double dt)
{
    vugi_network *n = &t->n;
    double least = dt * least_part(t), rate = n->rate;
    memcpy(n->next, n->volume, n->r.g->arc_count * sizeof *n->next);
    for (int i = 0; i < RETRIES; i++) {
        n->rate = rate + (fed == VUGI_NONE ? 0.0 : t->carry / dt);
        vug_status status = vugi_network_flows(n, fed, dt);
        if (status)
            return status;
        double part = first_part(n), over = 0.0, z;
        for (uint32_t a = 0; a < n->r.g->arc_count; a++)
            if (n->end[a] == VUGI_END_TANK)
                over = fmax(over, n->next[a] - next_event(n, a, &z));
        if (!(part < 1.0) || over <= 1e-9 * n->r.g->capacity || dt <= least)
            break;
        dt = fmax(least, dt * part);
    }
    n->rate = rate;
    t->carry = fed == VUGI_NONE ? t->carry : 0.0;
    vugi_network_find_bared(n);
    accept(t, dt);
    return record(t) ? VUG_OK : vugi_fail_memory(n->r.ctx);
}

/* ---- the run ----------------------------------------------------------------------- */

static vug_status start_basin_event(vugi_network *n)
{
    uint32_t basin = vugi_run_start(&n->r, n->r.task->inlet[0]);
    uint32_t air = basin == VUGI_NONE ? VUGI_NONE : n->r.links.air[basin];
    if (air == VUGI_NONE || !n->r.links.vented[air])
        return VUG_OK;
    n->r.reached[basin] = true;
    return vugi_run_note(&n->r, VUG_EVENT_BASIN, VUGI_NONE, n->r.g->arc[basin].from,
        n->r.g->arc[basin].lo, 0.0) ? VUG_OK : vugi_fail_memory(n->r.ctx);
}

static int32_t end_now(const vugi_network *n)
{
    bool vented = false;
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        vented |= n->r.links.vented[i];
    return n->r.liquid <= 1e-6 * n->r.g->capacity ? VUG_END_BLOCKED
        : vented ? VUG_END_CUT_OFF : VUG_END_FULL;
}

typedef enum outlook { NO_AIR, CLOSED_AIR, OPEN_AIR } outlook;

/* The best air that the pool of the fed arc touches, itself or through closed air and other pools. */
static outlook air_in_reach(const vugi_network *n, uint32_t fed)
{
    const vugi_graph *g = n->r.g;
    bool *pool = n->r.barred, *air = n->held; /* scratch between steps */
    uint32_t start = n->r.links.pool[fed];
    if (n->end[fed] != VUGI_END_NONE && n->over[fed] != VUGI_NONE
        && n->r.links.vented[n->over[fed]])
        return OPEN_AIR;
    memset(pool, 0, g->arc_count * sizeof *pool);
    memset(air, 0, g->arc_count * sizeof *air);
    outlook best = NO_AIR;
    if (start != VUGI_NONE) {
        pool[start] = true;
    } else if (n->over[fed] != VUGI_NONE) {
        air[n->over[fed]] = true;
        best = CLOSED_AIR;
    }
    for (bool more = true; more;) {
        more = false;
        for (uint32_t a = 0; a < g->arc_count; a++) {
            uint32_t p = n->r.links.pool[a], o = n->over[a];
            if (n->end[a] == VUGI_END_NONE || p == VUGI_NONE || o == VUGI_NONE || pool[p] == air[o])
                continue;
            if (n->r.links.vented[o] && pool[p])
                return OPEN_AIR;
            pool[p] = air[o] = more = true;
            best = CLOSED_AIR;
        }
    }
    return best;
}

/* Whether more liquid goes in. */
static bool goes_on(const timing *t, uint32_t fed)
{
    const vugi_network *n = &t->n;
    if (fed == VUGI_NONE)
        return false;
    outlook air = air_in_reach(n, fed);
    if (air == OPEN_AIR)
        return true;
    return air == CLOSED_AIR && n->give > 0.0 && t->task->pressure > 0.0
        && inlet_pressure(n) < 0.999 * t->task->pressure;
}

static double rate_now(const timing *t, double *until)
{
    const vugi_timed *task = t->task;
    *until = INFINITY;
    if (task->pressure > 0.0) {
        const vugi_mouth *m = t->n.r.scene->mouth + task->still.inlet[0];
        vugi_orifice hole = vugi_orifice_make(task->fluid, m->diameter, m->length);
        return fmax(0.0, vugi_orifice_flow(&hole, task->pressure - inlet_pressure(&t->n))) / VUGI_MM3;
    }
    double rate = task->rows > 0 ? 0.0 : task->rate;
    for (size_t i = 0; i < task->rows; i++) {
        if (task->table[2 * i] > t->time + 1e-12) {
            *until = task->table[2 * i];
            break;
        }
        rate = task->table[2 * i + 1];
    }
    return rate;
}

/* While liquid comes in. */
static vug_status pour(timing *t)
{
    vugi_network *n = &t->n;
    vugi_history *h = n->r.history;
    double volume = fmin(n->r.task->volume, n->r.g->capacity);
    for (;;) {
        double until;
        vugi_network_classify(n);
        uint32_t fed = vugi_network_fed(n);
        n->rate = rate_now(t, &until);
        if (!goes_on(t, fed)) {
            h->end = end_now(n);
            return VUG_OK;
        }
        if (n->rate <= 0.0 && isinf(until)) {
            h->end = VUG_END_SUPPLY; /* the table, or the pressure, gives no more */
            return VUG_OK;
        }
        double dt = n->rate > 0.0 ? n->r.g->capacity / (n->rate * STEPS) : until - t->time;
        dt = fmin(dt, until - t->time);
        double left = n->r.task->volume - n->r.liquid;
        if (n->rate > 0.0 && left <= dt * n->rate)
            dt = left / n->rate;
        vug_status status = advance(t, fed, dt);
        if (status)
            return status;
        if (n->r.stopped || n->r.task->volume - n->r.liquid <= 1e-9 * volume) {
            h->end = n->r.stopped ? VUG_END_SPILL : VUG_END_SUPPLY;
            return VUG_OK;
        }
        if (vugi_cancelled(n->r.ctx) && (status = vugi_step(n->r.ctx, 0.8)))
            return status;
        if (h->frame_count > 28 * STEPS)
            return vugi_fail(n->r.ctx, VUG_ERR_CONVERGENCE, "the fill did not end after %zu steps",
                h->frame_count);
    }
}

/* Until all is level, or held by its yield stress. */
static vug_status settle(timing *t, vugi_timed_result *result)
{
    vugi_network *n = &t->n;
    double start = t->time;
    n->rate = 0.0;
    for (int i = 0; i < 4 * STEPS; i++) {
        vugi_network_classify(n);
        result->slope = lag_now(n);
        if (result->slope <= level_tolerance) {
            result->settled = t->time;
            return VUG_OK;
        }
        if (t->time > 1e6)
            return VUG_OK;
        /* Ever longer steps, each a small part of the time so far. */
        vug_status status = advance(t, VUGI_NONE, 1e-3 + 0.02 * (t->time - start));
        if (!status && vugi_cancelled(n->r.ctx))
            status = vugi_step(n->r.ctx, 0.9);
        if (status)
            return status;
    }
    return VUG_OK;
}

static vug_status begin(timing *t)
{
    vugi_network *n = &t->n;
    const vugi_scene *s = n->r.scene;
    vug_status status = VUG_OK;
    if (!vugi_run_alloc(&n->r) || !vugi_network_alloc(n))
        return vugi_fail_memory(n->r.ctx);
    if ((status = vugi_resist_build(n->r.ctx, &s->mem, s, &n->resist)))
        return status;
    vugi_run_begin(&n->r);
    for (size_t k = 0; k < n->r.g->link_count; k++)
        n->basin[k] = VUGI_NONE;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        n->volume[a] = vugi_arc_volume(n->r.g, a, n->r.level[a]);
    if (!vugi_run_look(&n->r) || !vugi_run_frame(&n->r, (vugi_frame){.liquid = n->r.liquid}))
        return vugi_fail_memory(n->r.ctx);
    return start_basin_event(n);
}

vug_status vugi_timed_run(vug_context *ctx, const vugi_timed *task, vugi_history *history,
    double *level, vugi_timed_result *result)
{
    const vugi_scene *s = task->still.scene;
    timing t = {.task = task, .n = {.task = task, .bared = VUGI_NONE,
        .give = task->rigid ? -1.0 : task->air_head > 0.0 ? 1.0 / task->air_head : 0.0,
        .r = {.task = &task->still, .scene = s, .g = &s->graph, .history = history, .ctx = ctx,
            .level = level, .fuzz = 1e-9 * fmax(1e-3, s->columns.zhi - s->columns.zlo)}}};
    *result = (vugi_timed_result){.settled = -1.0};
    vug_status status = begin(&t);
    if (!status)
        status = pour(&t);
    result->time = t.time;
    result->lag = t.lag;
    result->peak_pressure = t.peak;
    if (!status && task->settle && history->end == VUG_END_SUPPLY)
        status = settle(&t, result);
    if (!status && history->end == VUG_END_FULL) {
        if (!vugi_run_note(&t.n.r, VUG_EVENT_FULL, task->still.inlet[0], VUGI_NONE, 0.0, 0.0))
            status = vugi_fail_memory(ctx);
        stamp(&t);
    }
    vugi_network_free(&t.n);
    return status;
}
