/* SPDX-License-Identifier: MIT
 * What the maker has to do at each step of an alternative. */
#include "plan/verify/steps.h"

#include "base/angle.h"
#include "plan/verify/exchange.h"

#include "cavity/rim.h"
#include "flow/interval.h"
#include "pose/rotation.h"
#include "pose/stability.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Waits are half as long again as the straight way takes, and no shorter than this (common practice,
 * no source). */
static const double SLACK = 1.5, SHORTEST_S = 5.0;

/* Paint of less than this, in mm3, is no feed. */
static const double NO_FEED = 0.5;

typedef vugi_verification scene;

static double lip_of(const scene *s, size_t opening, const double up[3])
{
    assert(opening < s->o->cavities->opening_count);
    double top, lip;
    vugi_opening_outer_rim(s->o->cavities->opening + opening, up, &top, &lip);
    return lip;
}

/* The opening with the highest lip that is open, or SIZE_MAX. */
static size_t highest(const scene *s, const double up[3])
{
    size_t best = SIZE_MAX;
    for (size_t i = 0; i < s->o->cavities->opening_count; i++)
        if (!s->closed[i] && (best == SIZE_MAX || lip_of(s, i, up) > lip_of(s, best, up) + 1e-9))
            best = i;
    return best;
}

int32_t vugi_steps_inlet(const scene *s)
{
    for (size_t i = 0; i < s->p->cavities->opening_count; i++)
        if (s->p->role[i] == VUG_ROLE_INLET)
            return (int32_t)s->now[i];
    return -1;
}

/* ---- times -------------------------------------------------------------------------- */

typedef struct rise {
    double passage, volume; /* mm, mm3 */
} rise;

/* Speed of a bubble: in passages not much wider than itself it rises as in a tube. */
static vug_status rise_speed(void *user, const vug_fluid *fluid, double *speed)
{
    const rise *r = user;
    double radius = cbrt(r->volume * 0.75 / VUGI_PI);
    return 2.0 * radius > 0.6 * r->passage
        ? vug_bubble_tube_speed(NULL, fluid, &r->passage, 1, speed)
        : vug_bubble_open_speed(NULL, fluid, 0, &radius, 1, speed);
}

/* Over the paint's range: typical, high, low, as the waits are typical, low, high. */
static void rise_speeds(const scene *s, double volume, double speed[3])
{
    const vug_fluid *typical = &s->p->fluid;
    const vug_plan_options *o = &s->p->options;
    rise r = {s->p->passage, volume};
    vug_interval range = {.struct_size = sizeof range};
    speed[0] = speed[1] = speed[2] = 0.0;
    if (vugi_over_fluids(NULL, "vug_plan_make", o->fluid_low ? o->fluid_low : typical, typical,
            o->fluid_high ? o->fluid_high : typical, rise_speed, &r, &range))
        return;
    speed[0] = range.typical;
    speed[1] = range.high;
    speed[2] = range.low;
}

/* Waits in s, typical, low and high, for a bubble of this volume over this way, and for what passes throats;
 * -1: it does not move. */
static void set_waits(const scene *s, size_t k, vug_step_info *step)
{
    double way = s->bubbles[k].travel, volume = s->bubbles[k].bubble * s->scale, speed[3];
    double *wait[3] = {&step->wait_s, &step->wait_low_s, &step->wait_high_s};
    bool moves = k > 0 && way > 0.0 && volume > 0.0;
    if (moves)
        rise_speeds(s, volume, speed);
    for (int i = 0; i < 3; i++) {
        double pass = s->fill[k].wait[i], up = 0.0;
        if (moves)
            up = speed[i] > 0.0 ? fmax(SHORTEST_S, SLACK * way / speed[i]) : -1.0;
        *wait[i] = pass < 0.0 || up < 0.0 ? -1.0 : up + pass;
    }
}

/* ---- steps ---------------------------------------------------------------------------- */

/* A set of openings as a list that the alternative frees. */
static vug_status put_list(const scene *s, const vugi_bitset *set, const uint32_t **list,
    size_t *count)
{
    uint32_t *own;
    bool good = vugi_bitset_list(&s->p->ctx->mem, set, &own, count);
    *list = own;
    return good ? VUG_OK : vugi_fail_memory(s->p->ctx);
}

/* Paint is injected there, be it into another cavity than by the step's inlet. */
static bool takes_paint(const scene *s, size_t k, size_t opening)
{
    const vugi_feed *f = s->fill[k].feed + s->o->cavities->opening[opening].cavity;
    return f->moved > NO_FEED && f->inlet == (int32_t)opening;
}

static vug_status fill_openings(const scene *s, size_t k, vug_step_info *step)
{
    size_t count = s->o->cavities->opening_count, top = highest(s, step->up);
    double surface = top == SIZE_MAX ? INFINITY : lip_of(s, top, step->up) - 0.05;
    step->inlet = s->fill[k].inlet;
    if (k == 0 && step->inlet < 0) /* so that there is something to say */
        step->inlet = vugi_steps_inlet(s) >= 0 || top == SIZE_MAX ? vugi_steps_inlet(s)
                                                                  : (int32_t)top;
    vugi_bitset cover;
    if (!vugi_bitset_make(&s->p->ctx->mem, count, &cover))
        return vugi_fail_memory(s->p->ctx);
    for (size_t i = 0; i < count; i++)
        if (!s->closed[i] && (int32_t)i != step->inlet && !takes_paint(s, k, i)
            && (step->inlet < 0 || lip_of(s, i, step->up) < surface))
            vugi_bitset_add(&cover, i);
    vug_status status = put_list(s, &cover, &step->cover, &step->cover_count);
    if (!status)
        status = put_list(s, &s->fill[k].vent, &step->vent, &step->vent_count);
    vugi_bitset_free(&s->p->ctx->mem, &cover);
    return status;
}

/* The openings by which paint goes in, the most first: one cavity does not fill from another's. What is held
 * back was taken off the whole, so each gives its share. */
static vug_status list_feeds(const scene *s, size_t k, vug_step_info *step)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    size_t cavities = s->o->cavities->cavity_count, n = 0;
    double sum = 0.0;
    uint32_t *feed = vugi_alloc(mem, cavities + 1, sizeof *feed);
    double *amount = vugi_alloc(mem, cavities + 1, sizeof *amount);
    step->feed = feed;
    step->feed_mm3 = amount;
    if (!feed || !amount)
        return vugi_fail_memory(s->p->ctx);
    for (size_t i = 0; i < cavities; i++) {
        const vugi_feed *f = s->fill[k].feed + i;
        if (!(f->moved > NO_FEED) || f->inlet < 0)
            continue;
        size_t at = n++;
        for (; at > 0 && f->moved > amount[at - 1]; at--) {
            feed[at] = feed[at - 1];
            amount[at] = amount[at - 1];
        }
        feed[at] = (uint32_t)f->inlet;
        amount[at] = f->moved;
        sum += f->moved;
    }
    for (size_t i = 0; i < n; i++)
        amount[i] *= step->inject_mm3 / sum;
    step->feed_count = n;
    return VUG_OK;
}

static vug_status stand(scene *s, vug_step_info *step)
{
    return vugi_static_margin(&s->p->ctx->mem, s->p->cavities->part, s->p->center, step->up, 0.05,
               &step->stand_mm)
        ? vugi_fail_memory(s->p->ctx)
        : VUG_OK;
}

vug_status vugi_steps_fill(scene *s)
{
    for (size_t k = 0; k < s->steps; k++) {
        vug_step_info *step = s->o->fill + k;
        *step = (vug_step_info){.struct_size = sizeof *step,
            .inject_mm3 = s->fill[k].moved,
            .trapped_mm3 = s->fill[k].left};
        memcpy(step->up, s->o->up + 3 * k, sizeof step->up);
        if (k > 0)
            vugi_rotation_between(step[-1].up, step->up, step->axis, &step->angle_deg);
        set_waits(s, k, step);
        vug_status status = fill_openings(s, k, step);
        if (!status)
            status = list_feeds(s, k, step);
        if (!status)
            status = stand(s, step);
        if (status)
            return status;
    }
    return VUG_OK;
}

/* The openings with the lowest lip in a pose let the liquid out. */
static vug_status find_outlets(const scene *s, vug_step_info *step)
{
    const double *up = step->up;
    vugi_bitset set;
    size_t count = s->o->cavities->opening_count;
    double low = INFINITY;
    if (!vugi_bitset_make(&s->p->ctx->mem, count, &set))
        return vugi_fail_memory(s->p->ctx);
    for (size_t i = 0; i < count; i++)
        if (!s->closed[i])
            low = fmin(low, lip_of(s, i, up));
    for (size_t i = 0; i < count; i++)
        if (!s->closed[i] && lip_of(s, i, up) < low + 0.05)
            vugi_bitset_add(&set, i);
    vug_status status = put_list(s, &set, &step->vent, &step->vent_count);
    vugi_bitset_free(&s->p->ctx->mem, &set);
    return status;
}

/* The same sequence upside down: liquid lies where air would, and leaves where air would. */
vug_status vugi_steps_drain(scene *s)
{
    for (size_t k = 0; k < s->steps; k++) {
        vug_step_info *step = s->o->drain + k;
        const vugi_replay_step *r = s->drain + k;
        *step = s->o->fill[k];
        step->inlet = -1;
        step->cover = step->vent = NULL; /* those are the filling step's */
        step->cover_count = step->vent_count = 0;
        step->feed = NULL;
        step->feed_mm3 = NULL;
        step->feed_count = 0;
        step->inject_mm3 = r->moved;
        step->trapped_mm3 = r->left;
        for (int j = 0; j < 3; j++)
            step->up[j] = -step->up[j];
        bool runs = r->moved <= 0.5
            || (r->time >= 0.0
                && vugi_plan_exchanges(&s->p->solvent, s->o->cavities, s->closed, step->up));
        step->wait_s = runs ? fmax(SHORTEST_S, SLACK * fmax(0.0, r->time)) : -1.0;
        step->wait_low_s = step->wait_high_s = step->wait_s;
        vug_status status = r->moved > 0.5 ? find_outlets(s, step) : VUG_OK;
        if (!status)
            status = stand(s, step);
        if (status)
            return status;
    }
    return VUG_OK;
}
