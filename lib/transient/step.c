/* SPDX-License-Identifier: MIT
 * A step of the network to its next event: a surface at an end of its arc, at a rim or at a lip. */
#include "transient/step.h"

#include "transient/falls.h"
#include "transient/filling.h"
#include "transient/gas.h"
#include "transient/inlet.h"

#include "flow/flow.h"
#include "hydrostatic/liquid.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { RETRIES = 24 };

static const double hair_mm = 0.02;
static const double most_pa = 1e8;

/* Part of the step after which the first tank comes to its next event; 1 or more if none does by more than
 * rounding. */
static double first_part(const vugi_filling *n)
{
    double part = INFINITY, over = 0.0;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++) {
        double gain = n->next[a] - n->volume[a];
        if (n->end[a] != VUGI_END_TANK)
            continue;
        double event = vugi_arc_volume(n->r.g, a, n->rim[a]);
        over = fmax(over, n->next[a] - event);
        if (gain > 0.0)
            part = fmin(part, (event - n->volume[a]) / gain);
    }
    return over > 1e-9 * n->r.g->capacity ? part : INFINITY;
}

/* Liquid that is over where an arc has just filled fills its neighbours under the node too if they lack a hair: else
 * two arcs that leak a little could take turns for ever. */
static void top_up(vugi_time_step *t, const vugi_node *node)
{
    vugi_filling *n = &t->n;
    const vugi_graph *g = n->r.g;
    double lack = 0.0;
    bool any = false;
    for (uint32_t k = node->link; k < node->link + node->downs; k++) {
        uint32_t a = g->link[k];
        lack += g->arc[a].volume - n->volume[a];
        if (g->arc[a].hi - n->r.level[a] > hair_mm)
            return;
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

/* With no inlet to bring it, what the flows did not agree about goes to the widest surface that has room for it. */
static void give_back(vugi_time_step *t)
{
    vugi_filling *n = &t->n;
    const vugi_graph *g = n->r.g;
    uint32_t best = VUGI_NONE;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        double volume = n->volume[a] + t->carry;
        if (n->end[a] == VUGI_END_TANK && volume > 0.0 && volume < g->arc[a].volume
            && n->r.level[a] > g->arc[a].lo
            && (best == VUGI_NONE
                || vugi_arc_area(g, a, n->r.level[a]) > vugi_arc_area(g, best, n->r.level[best])))
            best = a;
    }
    if (best == VUGI_NONE)
        return;
    n->volume[best] += t->carry;
    n->r.level[best] = vugi_arc_level(g, best, n->volume[best]);
    t->carry = 0.0;
}

/* What found no room in a step goes back to where it came from in it, as far as it is more than what was let in. */
static void return_flow(vugi_time_step *t, double gain)
{
    assert(gain < 0.0);
    vugi_filling *n = &t->n;
    double lost = 0.0;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        if (n->end[a] == VUGI_END_TANK)
            lost += fmax(0.0, n->volume[a] - n->next[a]);
    double share = fmin(1.0, -gain / lost); /* lost: no less than -gain */
    for (uint32_t a = 0; a < n->r.g->arc_count; a++) {
        double back = share * (n->volume[a] - n->next[a]);
        if (n->end[a] != VUGI_END_TANK || back <= 0.0)
            continue;
        n->next[a] += back;
        t->carry -= back;
    }
}

/* Tanks that come to their next event stop there; the others have none from here on. Returns what all of them gain. */
static double stop_at_events(vugi_filling *n)
{
    double slack = 1e-9 * n->r.g->capacity, gain = 0.0;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++) {
        double limit = vugi_arc_volume(n->r.g, a, n->rim[a]);
        bool comes = n->next[a] >= limit - slack && n->next[a] >= n->volume[a];
        if (n->end[a] != VUGI_END_TANK)
            continue;
        if (comes)
            n->next[a] = limit;
        else
            n->rim[a] = NAN;
        gain += n->next[a] - n->volume[a];
    }
    return gain;
}

static void accept(vugi_time_step *t, uint32_t fed, double dt)
{
    assert(dt > 0.0);
    vugi_filling *n = &t->n;
    const vugi_graph *g = n->r.g;
    double gain = stop_at_events(n);
    t->carry -= gain; /* what is let in and in no arc yet: all of it less what the arcs gain */
    if (gain < 0.0)
        return_flow(t, gain);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (n->over[a] != VUGI_NONE)
            n->press[a] = n->gas[n->over[a]].excess;
        if (n->end[a] != VUGI_END_TANK)
            continue;
        n->volume[a] = n->next[a];
        n->r.level[a] = isnan(n->rim[a]) ? vugi_arc_level(g, a, n->volume[a]) : n->rim[a];
    }
    for (uint32_t i = 0; i < g->node_count; i++)
        top_up(t, g->node + i);
    if (fed == VUGI_NONE && t->carry != 0.0)
        give_back(t);
    t->time += dt * t->share;
    n->r.liquid = vugi_levels_volume(g, n->r.level);
}

bool vugi_time_step_open_surface(const vugi_filling *n, uint32_t a)
{
    assert(a < n->r.g->arc_count);
    return n->end[a] == VUGI_END_TANK && n->r.links.pool[a] != VUGI_NONE && n->over[a] != VUGI_NONE
        && n->r.links.vented[n->over[a]];
}

/* Greatest difference of level between surfaces of one pool under open air. */
double vugi_time_step_lag(const vugi_filling *n)
{
    double lag = 0.0;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        for (uint32_t b = 0; b < a && vugi_time_step_open_surface(n, a); b++)
            if (vugi_time_step_open_surface(n, b) && n->r.links.pool[b] == n->r.links.pool[a])
                lag = fmax(lag, fabs(n->r.level[a] - n->r.level[b]));
    return lag;
}

double vugi_time_step_inlet_pressure(const vugi_filling *n)
{
    return fmax(0.0, vugi_head_pressure(n->task->fluid, vugi_inlet_inside(n)));
}

/* Openings beside a pool that stands over its sill by a head, on its side of it. */
static bool check_heads(vugi_time_step *t)
{
    vugi_filling *n = &t->n;
    vugi_run *r = &n->r;
    t->sill_head = fmax(t->sill_head, vugi_falls_door_head(n));
    for (uint32_t a = 0; a < r->g->arc_count; a++) {
        double hi = r->g->arc[a].hi, roof = r->scene->columns.zhi - hi;
        double head = n->end[a] == VUGI_END_OVER ? fmin(n->sill_head[a], roof) : 0.0;
        t->sill_head = fmax(t->sill_head, head);
        for (size_t i = 0; i < r->scene->lip_count && head > 0.0; i++) {
            const vugi_port *p = r->scene->lip + i;
            uint32_t landing = r->scene->landing[p->mouth];
            bool beside = r->g->arc[p->arc].from == r->g->arc[a].to && landing != VUGI_NONE
                && r->links.pool[landing] != VUGI_NONE
                && r->links.pool[landing] == r->links.pool[a];
            if (beside && p->z <= hi + head && vugi_run_can_spill(r, p) && !vugi_run_spill(r, p))
                return false;
        }
    }
    return true;
}

static bool check_lips(vugi_filling *n)
{
    vugi_run *r = &n->r;
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *p = r->scene->lip + i;
        bool wet = r->level[p->arc] > r->before[p->arc]
            || (n->end[p->arc] == VUGI_END_TANK && n->flow[p->arc] > 0.0);
        if (wet && vugi_run_can_spill(r, p) && r->level[p->arc] >= p->z - r->tolerance
            && !vugi_run_spill(r, p))
            return false;
    }
    return true;
}

/* When what is in the arcs had been let in, by a rate: what found no room is not there yet. */
static double moment(const vugi_time_step *t)
{
    const vugi_history *h = t->n.r.history;
    double before = h->frame_count > 0 ? h->frame[h->frame_count - 1].time : 0.0;
    bool by_rate = t->task->pressure <= 0.0 && t->feeds > 0.0;
    return by_rate ? fmax(before, t->time - t->carry / t->feeds) : t->time;
}

/* Events noted since the step began get its time. */
void vugi_time_step_stamp(vugi_time_step *t)
{
    vugi_history *h = t->n.r.history;
    for (; t->stamped < h->event_count; t->stamped++)
        h->event[t->stamped].time = moment(t);
}

static bool record(vugi_time_step *t)
{
    vugi_filling *n = &t->n;
    t->lag = fmax(t->lag, vugi_time_step_lag(n)); /* while the air is what the step had */
    bool ok = check_heads(t) && check_lips(n) && vugi_run_rims(&n->r) && vugi_run_merges(&n->r);
    if (n->bared != VUGI_NONE)
        vugi_run_bare(&n->r, n->bared, n->press);
    ok = ok && vugi_run_look(&n->r);
    double before = 0.0, after = 0.0;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++) {
        before += n->volume[a];
        n->volume[a] = vugi_arc_volume(n->r.g, a, n->r.level[a]);
        after += n->volume[a];
    }
    t->carry += before - after; /* hairs that were filled or bared */
    n->r.liquid = after;
    vugi_time_step_stamp(t);
    double pressure = vugi_time_step_inlet_pressure(n);
    t->peak = fmax(t->peak, pressure);
    return ok
        && vugi_run_frame(&n->r,
            (vugi_frame){.liquid = n->r.liquid, .time = moment(t), .pressure = pressure});
}

/* The shortest step, as a part of the usual one: events that follow each other more closely, as when two arcs take turns in
 * running over, are taken together, the longer that lasts the more of them. */
static double least_part(const vugi_time_step *t)
{
    return fmin(0.25, 0.0025 * exp2(t->brief / 50.0));
}

/* Volume that a step may be wrong by. */
static double step_slack(const vugi_filling *n, double dt)
{
    return 0.01 * (n->rate * dt) + 1e-7 * n->r.g->capacity;
}

/* Whether the flows of this step balance. */
static bool is_agreed(const vugi_filling *n, double dt)
{
    return n->net.heads.rest * dt <= step_slack(n, dt);
}

/* A rate that asks for more than any part bears comes to no end that a person can act on. */
static vug_status check_flows(const vugi_time_step *t, double dt)
{
    const vugi_filling *n = &t->n;
    double asked = vugi_head_pressure(n->task->fluid, vugi_heads_highest(&n->net.heads));
    if (t->task->pressure <= 0.0 && asked > most_pa)
        return vugi_fail(n->r.ctx, VUG_ERR_DOMAIN,
            "the rate takes more than %g MPa, which no part bears: fill more slowly, or with a "
            "thinner liquid",
            1e-6 * most_pa);
    if (!is_agreed(n, dt))
        return vugi_fail(n->r.ctx, VUG_ERR_CONVERGENCE,
            "flows do not agree after %d rounds at %g s, in a step of %g s: fill more slowly, or "
            "take other columns",
            n->net.heads.round, t->time, dt);
    return VUG_OK;
}

/* What is let in is what the arcs gain: else the flows of this step did not agree with each other. */
static bool is_balanced(const vugi_filling *n, double dt)
{
    double gain = 0.0;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        gain += n->next[a] - n->volume[a];
    return fabs(gain - n->rate * dt) <= step_slack(n, dt);
}

/* Flows of a step, with what is let in: by rate and what was left over, as far as it goes in a step of that whole length,
 * or by pressure. */
static vug_status find_flows(vugi_time_step *t, uint32_t fed, double rate, double dt, double whole)
{
    if (!(t->task->pressure > 0.0 && fed != VUGI_NONE))
        t->n.rate = rate + (fed == VUGI_NONE ? 0.0 : t->carry / whole);
    return vugi_filling_flows(&t->n, fed, dt);
}

/* Moves on by at most dt, to the first event in it. */
vug_status vugi_time_step_advance(vugi_time_step *t, uint32_t fed, double dt)
{
    assert(dt > 0.0);
    assert(fed == VUGI_NONE || fed < t->n.r.g->arc_count);
    vugi_filling *n = &t->n;
    double least = dt * least_part(t), rate = n->rate, whole = dt;
    memcpy(n->next, n->volume, n->r.g->arc_count * sizeof *n->next);
    for (int i = 0; i < RETRIES; i++) {
        vug_status status = find_flows(t, fed, rate, dt, whole);
        if (status)
            return status;
        if (!(is_agreed(n, dt) && is_balanced(n, dt)) && dt > least / 16.0) {
            dt *= 0.25;
            continue;
        }
        if ((status = check_flows(t, dt)))
            return status;
        double part = first_part(n);
        if (!(part < 1.0) || dt <= least)
            break;
        dt = fmax(least, dt * part);
    }
    t->brief = dt <= least ? t->brief + 1 : t->brief / 2;
    t->rounds = (unsigned)fmax(t->rounds, n->net.heads.round);
    if (fed != VUGI_NONE)
        t->carry += n->rate * dt - t->carry * (dt / whole);
    if (t->task->pressure <= 0.0)
        n->rate = rate;
    t->feeds = fed == VUGI_NONE ? 0.0 : rate / t->share;
    vugi_gas_find_bared(n);
    vug_status status = vugi_falls_note(n);
    if (status)
        return status;
    accept(t, fed, dt);
    if (t->task->pressure > 0.0) /* what found no room has not come in */
        t->carry = 0.0;
    return record(t) ? VUG_OK : vugi_fail_memory(n->r.ctx);
}
