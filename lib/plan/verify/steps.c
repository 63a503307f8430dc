/* SPDX-License-Identifier: MIT
 * What the maker has to do at each step of an alternative. */
#include "plan/verify/steps.h"

#include "base/angle.h"

#include "flow/interval.h"
#include "pose/rotation.h"
#include "pose/stability.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Waits are half as long again as the straight way takes, and no shorter than this (common practice,
 * no source). */
static const double SLACK = 1.5, SHORTEST_S = 5.0;

typedef vugi_verification scene;

int32_t vugi_steps_inlet(const scene *s)
{
    int32_t named = vugi_inlet_named(s->p);
    return named >= 0 ? (int32_t)s->now[named] : -1;
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
    rise r = {vugi_passage(s->o->cavities), volume};
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
    step->rise_mm = moves ? way : 0.0;
    step->bubble_mm3 = moves ? volume : 0.0;
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

/* Of a step: what is free, what stays covered, where air leaves and where paint shows. */
static vug_status list_openings(const scene *s, size_t k, vug_step_info *step)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    const vugi_move *move = s->move + k;
    size_t count = s->o->cavities->opening_count;
    vugi_bitset cover = {.word = NULL}, open = {.word = NULL};
    bool good = vugi_bitset_make(mem, count, &cover) && vugi_bitset_make(mem, count, &open);
    for (size_t i = 0; i < count && good; i++)
        if (!s->closed[i])
            vugi_bitset_add(move->open[i] ? &open : &cover, i);
    vug_status status = good ? put_list(s, &cover, &step->cover, &step->cover_count)
                             : vugi_fail_memory(s->p->ctx);
    if (!status)
        status = put_list(s, &open, &step->open, &step->open_count);
    if (!status)
        status = put_list(s, &s->fill[k].through, &step->vent, &step->vent_count);
    if (!status)
        status = put_list(s, &s->fill[k].shown, &step->show, &step->show_count);
    vugi_bitset_free(mem, &cover);
    vugi_bitset_free(mem, &open);
    return status;
}

/* The openings by which paint goes in, the most first: one cavity does not fill from another's. */
static vug_status list_feeds(const scene *s, size_t k, vug_step_info *step)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    size_t cavities = s->o->cavities->cavity_count, n = 0;
    double sum = 0.0;
    uint32_t *feed = vugi_alloc(mem, cavities + 1, sizeof *feed);
    double *amount = vugi_alloc(mem, cavities + 1, sizeof *amount);
    double *most = vugi_alloc(mem, cavities + 1, sizeof *most);
    step->feed = feed;
    step->feed_mm3 = amount;
    step->feed_most_mm3 = most;
    step->inlet = -1;
    if (!feed || !amount || !most)
        return vugi_fail_memory(s->p->ctx);
    for (size_t i = 0; i < cavities; i++) {
        int32_t inlet = s->move[k].feed[i].inlet;
        double moved = s->fill[k].moved_by[i];
        if (inlet < 0)
            continue;
        size_t at = n++;
        for (; at > 0 && moved > amount[at - 1]; at--) {
            feed[at] = feed[at - 1];
            amount[at] = amount[at - 1];
            most[at] = most[at - 1];
        }
        feed[at] = (uint32_t)inlet;
        amount[at] = moved;
        most[at] = s->move[k].feed[i].most;
        sum += moved;
    }
    for (size_t i = 0; i < n && sum > 0.0; i++)
        amount[i] *= step->inject_mm3 / sum;
    step->feed_count = n;
    if (n > 0)
        step->inlet = (int32_t)feed[0];
    return VUG_OK;
}

/* The poses on the way of the turn, which the caller gets from here on. */
static void take_way(scene *s, size_t k, vug_step_info *step)
{
    step->way = s->move[k].way;
    step->way_count = s->move[k].ways;
    step->pace_deg = k > 0 ? s->stop : 0.0;
    step->lean_deg = s->move[k].lean_deg;
    s->move[k].way = NULL;
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
            .trapped_mm3 = s->fill[k].left,
            .empty_mm3 = s->fill[k].empty};
        memcpy(step->up, s->o->up + 3 * k, sizeof step->up);
        if (k > 0)
            vugi_rotation_between(step[-1].up, step->up, step->axis, &step->angle_deg);
        if (k > 0 || !s->p->start.given)
            set_waits(s, k, step);
        take_way(s, k, step);
        vug_status status = list_openings(s, k, step);
        if (!status)
            status = list_feeds(s, k, step);
        if (!status)
            status = stand(s, step);
        if (status)
            return status;
    }
    return VUG_OK;
}

static vug_status note_stuck(scene *s)
{
    const size_t cavities = s->o->cavities->cavity_count;
    double *stuck = s->o->stuck = vugi_alloc(&s->p->ctx->mem, s->washes * cavities, sizeof *stuck);
    for (size_t k = 0; k < s->washes && stuck; k++)
        memcpy(stuck + k * cavities, s->drain[k].moved_by, cavities * sizeof *stuck);
    return stuck ? VUG_OK : vugi_fail_memory(s->p->ctx);
}

vug_status vugi_steps_drain(scene *s)
{
    vug_status status = note_stuck(s);
    for (size_t k = 0; k < s->washes && !status; k++) {
        vug_step_info *step = s->o->drain + k;
        const vugi_outcome *r = s->drain + k;
        *step = (vug_step_info){.struct_size = sizeof *step,
            .inlet = -1,
            .inject_mm3 = r->moved,
            .trapped_mm3 = r->left,
            .stuck_mm3 = r->stuck,
            .time_s = r->time,
            .wait_s = r->time < 0.0 ? -1.0 : fmax(SHORTEST_S, SLACK * r->time)};
        step->wait_low_s = step->wait_high_s = step->wait_s;
        memcpy(step->up, s->down[k].up, sizeof step->up);
        if (k > 0)
            vugi_rotation_between(step[-1].up, step->up, step->axis, &step->angle_deg);
        vugi_bitset open;
        bool good = vugi_bitset_make(&s->p->ctx->mem, s->o->cavities->opening_count, &open);
        for (size_t i = 0; i < s->o->cavities->opening_count && good; i++)
            if (!s->o->later[i])
                vugi_bitset_add(&open, i);
        status = good ? put_list(s, &open, &step->open, &step->open_count)
                      : vugi_fail_memory(s->p->ctx);
        vugi_bitset_free(&s->p->ctx->mem, &open);
        if (!status)
            status = put_list(s, &r->through, &step->vent, &step->vent_count);
        if (!status)
            status = stand(s, step);
    }
    return status;
}
