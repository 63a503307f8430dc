/* SPDX-License-Identifier: MIT
 * Filling in time: steps of the network from event to event. At a rate that goes to zero the heads
 * vanish and what is left is the fill without hurry. */
#include "transient/run.h"

#include "transient/falls.h"
#include "transient/filling.h"
#include "transient/inlet.h"
#include "transient/step.h"
#include "transient/surfaces.h"

#include "flow/flow.h"
#include "flow/hole.h"
#include "flow/viscosity.h"

#include <math.h>
#include <string.h>

static const double level_tolerance = 0.05; /* mm: level to the eye */
static const double patience_s = 1e6;

/* ---- whether it goes on ---------------------------------------------------------------- */

static vug_status start_basin_event(vugi_filling *n)
{
    uint32_t basin = vugi_run_start(&n->r, n->r.task->inlet[0]);
    uint32_t air = basin == VUGI_NONE ? VUGI_NONE : n->r.links.air[basin];
    if (air == VUGI_NONE || !n->r.links.vented[air])
        return VUG_OK;
    return vugi_run_reach(&n->r, basin);
}

typedef enum outlook { NO_AIR, CLOSED_AIR, OPEN_AIR } outlook;

/* The best air that the pool of the fed arc touches, itself or through closed air and other pools. */
static outlook air_in_reach(const vugi_filling *n, uint32_t fed)
{
    const vugi_graph *g = n->r.g;
    uint32_t *pool = n->r.visited, *air = n->r.rising; /* scratch; 1: in reach */
    uint32_t start = n->r.links.pool[fed];
    if (n->end[fed] != VUGI_END_NONE && n->over[fed] != VUGI_NONE
        && n->r.links.vented[n->over[fed]])
        return OPEN_AIR;
    memset(pool, 0, g->arc_count * sizeof *pool);
    memset(air, 0, g->arc_count * sizeof *air);
    outlook best = NO_AIR;
    if (start != VUGI_NONE) {
        pool[start] = 1;
    } else if (n->over[fed] != VUGI_NONE) {
        air[n->over[fed]] = 1;
        best = CLOSED_AIR;
    }
    for (bool more = true; more;) {
        more = false;
        for (size_t i = 0; i < 2 * n->r.scene->door_count; i++) {
            uint32_t a = n->r.scene->door[i / 2].arc[i % 2], p = n->r.links.pool[a];
            uint32_t into = vugi_falls_by_door(n, i / 2, a);
            uint32_t o = into == VUGI_NONE ? VUGI_NONE : n->r.links.air[into];
            if (p == VUGI_NONE || o == VUGI_NONE || !pool[p] || air[o])
                continue;
            air[o] = 1;
            more = true;
            best = n->r.links.vented[o] ? OPEN_AIR : CLOSED_AIR;
            if (best == OPEN_AIR)
                return best;
        }
        for (uint32_t a = 0; a < g->arc_count; a++) {
            uint32_t p = n->r.links.pool[a], o = n->over[a];
            if (n->end[a] == VUGI_END_NONE || p == VUGI_NONE || o == VUGI_NONE || pool[p] == air[o])
                continue;
            if (n->r.links.vented[o] && pool[p])
                return OPEN_AIR;
            pool[p] = air[o] = 1;
            more = true;
            best = CLOSED_AIR;
        }
    }
    return best;
}

/* Whether more liquid goes in. */
static bool goes_on(const vugi_time_step *t, uint32_t fed)
{
    const vugi_filling *n = &t->n;
    if (fed == VUGI_NONE)
        return false;
    outlook air = air_in_reach(n, fed);
    if (air == OPEN_AIR)
        return true;
    return air == CLOSED_AIR && n->compressibility > 0.0 && t->task->pressure > 0.0
        && vugi_time_step_inlet_pressure(n) < 0.999 * t->task->pressure;
}

static double rate_now(const vugi_time_step *t, double *until)
{
    const vugi_transient *task = t->task;
    *until = INFINITY;
    if (task->pressure > 0.0) {
        double most = vugi_inlet_driven(&t->n, 0.0);
        double rate = vugi_inlet_driven(&t->n, vugi_inlet_inside(&t->n));
        return rate > 5e-5 * most ? rate : 0.0; /* what is left takes for ever */
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

/* ---- between loads ------------------------------------------------------------------- */

/* All is level: an event at the inlet, with the highest open surface. */
static bool note_level(vugi_time_step *t)
{
    vugi_filling *n = &t->n;
    double level = -INFINITY;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        if (vugi_time_step_open_surface(n, a))
            level = fmax(level, n->r.level[a]);
    bool ok = vugi_run_note(&n->r, VUG_EVENT_LEVEL, n->r.task->inlet[0], VUGI_NONE,
        isfinite(level) ? level : 0.0, 0.0);
    vugi_time_step_stamp(t);
    return ok;
}

/* Surfaces that a yield stress holds above the lowest of their pool. */
static bool note_slopes(vugi_time_step *t)
{
    vugi_filling *n = &t->n;
    const vugi_graph *g = n->r.g;
    bool ok = true;
    for (uint32_t a = 0; a < g->arc_count && ok; a++) {
        double low = INFINITY;
        for (uint32_t b = 0; b < g->arc_count && vugi_time_step_open_surface(n, a); b++)
            if (vugi_time_step_open_surface(n, b) && n->r.links.pool[b] == n->r.links.pool[a])
                low = fmin(low, n->r.level[b]);
        if (n->r.level[a] > low + level_tolerance)
            ok = vugi_run_note(&n->r, VUG_EVENT_SLOPE, VUGI_NONE, g->arc[a].from, n->r.level[a],
                0.0);
    }
    vugi_time_step_stamp(t);
    return ok;
}

/* Nothing comes in: until all is level, and then on to a time. Ever longer steps, each a small part of the time
 * so far. *slope: what is left, if it is never level; NULL: not wanted. */
static vug_status rest(vugi_time_step *t, double until, double *slope)
{
    vugi_filling *n = &t->n;
    double start = t->time;
    n->rate = 0.0;
    for (int i = 0; i < 4 * VUGI_STEPS && t->time < fmin(until, start + patience_s); i++) {
        vugi_surfaces_classify(n);
        if (vugi_time_step_lag(n) <= level_tolerance) {
            if (!note_level(t))
                return vugi_fail_memory(n->r.ctx);
            break;
        }
        vug_status status = vugi_time_step_advance(t, VUGI_NONE,
            fmin(until - t->time, 1e-3 + 0.02 * (t->time - start)));
        if (!status && vugi_cancelled(n->r.ctx))
            status = vugi_step(n->r.ctx, 0.9);
        if (status)
            return status;
    }
    vugi_surfaces_classify(n);
    if (slope)
        *slope = vugi_time_step_lag(n);
    if (isfinite(until) && t->time < until) {
        double left = until - t->time;
        vug_status status = vugi_time_step_advance(t, VUGI_NONE, left);
        t->time = until;
        return status;
    }
    return VUG_OK;
}

/* After the last load. */
static vug_status settle(vugi_time_step *t, vugi_transient_result *result)
{
    size_t events = t->n.r.history->event_count;
    vug_status status = rest(t, INFINITY, &result->slope);
    if (status)
        return status;
    const vugi_history *h = t->n.r.history;
    if (h->event_count > events && h->event[h->event_count - 1].kind == VUG_EVENT_LEVEL) {
        result->settled = h->event[h->event_count - 1].time;
        return VUG_OK;
    }
    return note_slopes(t) ? VUG_OK : vugi_fail_memory(t->n.r.ctx);
}

/* What presses moves nothing to speak of: it takes a million times as long as the inlet would, or twenty thousand where a
 * yield stress is what holds it, as flows go to nothing slowly there. */
static bool stands_still(const vugi_time_step *t)
{
    double part = vugi_fluid_yield(t->task->fluid) > 0.0 ? 5e-5 : 1e-6;
    return t->task->pressure > 0.0 && t->n.rate <= part * vugi_inlet_driven(&t->n, 0.0);
}

/* The last of what was let in found no room, or there was a hair more: the end was so much sooner or later. */
static void end_in_time(vugi_time_step *t)
{
    const vugi_history *h = t->n.r.history;
    if (t->task->pressure > 0.0 || h->frame_count == 0)
        return;
    t->time = h->frame[h->frame_count - 1].time;
    t->carry = 0.0;
}

/* ---- the run ----------------------------------------------------------------------- */

/* For which a step is cut, under pressure: not much less than the inlet passes freely, but where the way inside is what
 * counts a few times what went in the step before. */
static double usual_rate(const vugi_time_step *t, double last)
{
    double all = vugi_inlet_driven(&t->n, 0.0), usual = fmax(t->n.rate, 0.05 * all);
    return t->steps > 0 ? fmin(usual, fmax(4.0 * last, 1e-5 * all)) : usual;
}

/* While liquid comes in. */
static vug_status pour(vugi_time_step *t)
{
    vugi_filling *n = &t->n;
    vugi_history *h = n->r.history;
    double volume = fmin(n->r.task->volume, n->r.g->capacity);
    for (;;) {
        double until;
        vugi_surfaces_classify(n);
        uint32_t fed = vugi_inlet_fed(n);
        double last = n->rate;
        n->rate = rate_now(t, &until);
        if (!goes_on(t, fed)) {
            h->end = vugi_run_end(&n->r);
            return VUG_OK;
        }
        if (n->rate <= 0.0 && isinf(until)) {
            h->end = VUG_END_SUPPLY; /* the table, or the pressure, gives no more */
            return VUG_OK;
        }
        if (n->rate <= 0.0) {
            vug_status status = rest(t, until, NULL);
            if (status)
                return status;
            continue;
        }
        double usual = t->task->pressure > 0.0 ? usual_rate(t, last) : n->rate;
        double dt = fmin(n->r.g->capacity / (usual * VUGI_STEPS), until - t->time);
        double left = n->r.task->volume - n->r.liquid - t->carry;
        if (left <= dt * n->rate) {
            double supply = fmax(0.0, left) / n->rate;
            dt = fmax(supply, 1e-3 * dt);
            t->share = t->task->pressure > 0.0 ? 1.0 : supply / dt;
            n->rate *= t->share;
        }
        vug_status status = vugi_time_step_advance(t, fed, dt);
        t->share = 1.0;
        if (status)
            return status;
        if (stands_still(t)) {
            h->end = VUG_END_SUPPLY;
            return VUG_OK;
        }
        if (n->r.stopped || n->r.task->volume - n->r.liquid <= 1e-9 * volume) {
            h->end = n->r.stopped ? VUG_END_SPILL : VUG_END_SUPPLY;
            return VUG_OK;
        }
        if (vugi_cancelled(n->r.ctx) && (status = vugi_step(n->r.ctx, 0.8)))
            return status;
        if (++t->steps > 28 * VUGI_STEPS)
            return vugi_fail(n->r.ctx, VUG_ERR_CONVERGENCE, "the fill did not end after %zu steps",
                t->steps);
    }
}

static vug_status begin(vugi_time_step *t)
{
    vugi_filling *n = &t->n;
    vug_status status;
    if ((status = vugi_filling_make(n->r.ctx, n)))
        return status;
    n->r.links.hangs = n->probe.hangs = n->hung;
    vugi_run_begin(&n->r);
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        n->volume[a] = vugi_arc_volume(n->r.g, a, n->r.level[a]);
    if (!vugi_run_look(&n->r) || !vugi_run_frame(&n->r, (vugi_frame){.liquid = n->r.liquid}))
        return vugi_fail_memory(n->r.ctx);
    return start_basin_event(n);
}

vug_status vugi_transient_run(vug_context *ctx, const vugi_transient *task, vugi_history *history,
    double *level, vugi_transient_result *result)
{
    const vugi_scene *s = task->fill.scene;
    vugi_time_step t = {.task = task,
        .share = 1.0,
        .n = {.task = task,
            .bared = VUGI_NONE,
            .compressibility = task->rigid ? -1.0
                : task->air_head > 0.0     ? 1.0 / task->air_head
                                           : 0.0,
            .r = {.task = &task->fill,
                .scene = s,
                .g = &s->graph,
                .history = history,
                .ctx = ctx,
                .level = level,
                .pressed = true}}};
    *result = (vugi_transient_result){.settled = -1.0};
    vug_status status = begin(&t);
    if (!status)
        status = pour(&t);
    if (!status)
        end_in_time(&t);
    result->time = t.time;
    result->lag = t.lag;
    result->peak_pressure = t.peak;
    result->sill_head = t.sill_head;
    result->rounds = t.rounds;
    if (!status && task->settle && history->end == VUG_END_SUPPLY)
        status = settle(&t, result);
    if (!status && history->end == VUG_END_FULL) {
        if (!vugi_run_note(&t.n.r, VUG_EVENT_FULL, task->fill.inlet[0], VUGI_NONE, 0.0, 0.0))
            status = vugi_fail_memory(ctx);
        vugi_time_step_stamp(&t);
    }
    vugi_filling_free(&t.n);
    return status;
}
