/* SPDX-License-Identifier: MIT
 * How a part is held to wash it. */
#include "plan/verify/wash.h"

#include "base/context_types.h"
#include "base/threads.h"
#include "drain/breakout.h"
#include "plan/cost.h"
#include "plan/verify/bench.h"
#include "pose/say.h"

#include <math.h>
#include <string.h>

typedef vugi_verification scene;

/* Those that are easy to hold, and those with an opening straight down. Of them the TIMED
 * that leave the least are drained by the clock. */
enum { DOWN = 8, POSES = VUGI_EASY + DOWN, TIMED = 6, LIQUIDS = 2 };

/* Columns to choose on; the plan's figures are those of the steps on its own columns. */
static const double WASH_ACROSS = 60.0;

/* A turn more is worth it when so much of the cavity runs out by it, and no less than that in mm3: it can be seen. */
static const double LEAST_SHARE = 0.01, LEAST_MM3 = 60.0;

typedef struct wash {
    scene *s;
    vugi_replay task[LIQUIDS]; /* with the rinsing liquid; with raw resin */
    vug_fluid raw;
    vug_moment **now; /* of each cavity: what is in it, of the rinsing liquid; NULL: it is full */
    double up[3 * POSES], ease[POSES];
    size_t poses;
    size_t order[POSES]; /* the best by what they leave first */
    double price[POSES]; /* of each, as the next step */
    double gain[POSES];  /* what runs out by itself */
} wash;

/* ---- poses -------------------------------------------------------------------------------- */

static void list_poses(wash *w)
{
    const vugi_pose_set *set = &w->s->p->pose_set;
    const vug_cavities *c = w->s->o->cavities;
    for (; w->poses < VUGI_EASY && w->poses < set->count; w->poses++) {
        memcpy(w->up + 3 * w->poses, set->up + 3 * w->poses, 3 * sizeof(double));
        w->ease[w->poses] = set->ease[w->poses];
    }
    for (size_t i = 0; i < c->opening_count && w->poses < POSES; i++) {
        if (w->s->o->later[i])
            continue;
        double *up = w->up + 3 * w->poses;
        for (int k = 0; k < 3; k++)
            up[k] = -c->opening[i].axis[k];
        vugi_say_nearest(up);
        w->ease[w->poses++] = vugi_cost_ease_any();
    }
}

/* ---- trying them ---------------------------------------------------------------------------- */

/* One step more in a pose, with one liquid. */
static vug_status try_with(const wash *w, const vugi_replay *task, size_t pose, vugi_outcome *last)
{
    const vugi_allocator *mem = &w->s->p->ctx->mem;
    vug_context ctx = vugi_context_beside(w->s->p->ctx);
    vugi_move move = w->s->down[w->s->washes];
    vugi_outcome outcome = {.moved = 0.0};
    memcpy(move.up, w->up + 3 * pose, sizeof move.up);
    vug_status status = VUG_ERR_MEMORY;
    if (vugi_outcomes_make(mem, w->s->o->cavities, &outcome, 1))
        status = vugi_replay_drain_from(&ctx, task, w->now, &move, &outcome, NULL);
    *last = outcome;
    vugi_outcomes_free(mem, &outcome, 1);
    return status;
}

/* Does nothing hold the liquid back in this pose, in no cavity? */
static bool breaks_out(const wash *w, const vug_fluid *liquid, size_t pose)
{
    const vugi_option *o = w->s->o;
    for (size_t i = 0; i < o->cavities->cavity_count; i++)
        if (!vugi_breaks_out(liquid, o->cavities, o->later, i, w->up + 3 * pose))
            return false;
    return true;
}

/* By what it leaves, as if all ran that can. */
static vug_status try_order(wash *w, size_t pose)
{
    vugi_replay task = w->task[0];
    vugi_outcome last;
    task.brief = true;
    vug_status status = try_with(w, &task, pose, &last);
    w->gain[pose] = 0.0;
    w->price[pose] = vugi_cost_of_wash(last.left / w->s->o->info.capacity_mm3,
        breaks_out(w, task.fluid, pose) ? 0.0 : -1.0, w->ease[pose]);
    return status;
}

/* By the clock; a full part with raw resin too. */
static vug_status try_clock(wash *w, size_t pose)
{
    const double capacity = w->s->o->info.capacity_mm3;
    w->price[pose] = 0.0;
    for (int i = 0; i < (w->s->washes == 0 ? LIQUIDS : 1); i++) {
        vugi_outcome last;
        vug_status status = try_with(w, w->task + i, pose, &last);
        if (status)
            return status;
        w->price[pose] += vugi_cost_of_wash((last.left + last.stuck) / capacity, last.time,
            w->ease[pose]);
        if (i == 0)
            w->gain[pose] = last.moved;
    }
    return VUG_OK;
}

/* The first count of the order, which are put in order of their prices. */
static vug_status try_first(wash *w, vug_status (*try)(wash *, size_t), size_t count)
{
    vug_context *ctx = w->s->p->ctx;
    vug_status verdict[POSES] = {VUG_OK};
    int threads = vugi_threads(ctx, count);
    vug_status status = vugi_step(ctx, 0.7);
    (void)threads;
    if (status)
        return status;
#pragma omp parallel for schedule(dynamic, 1) num_threads(threads)
    for (size_t i = 0; i < count; i++)
        if (!vugi_pulse(ctx, 0.7))
            verdict[i] = try(w, w->order[i]);
    status = vugi_step(ctx, 0.7);
    for (size_t i = 0; i < count && !status; i++)
        if (verdict[i])
            status = vugi_fail(ctx, verdict[i], "washing: %s", vug_status_string(verdict[i]));
    for (size_t i = 1; i < count; i++) {
        size_t moving = w->order[i], at = i;
        for (; at > 0 && w->price[moving] < w->price[w->order[at - 1]]; at--)
            w->order[at] = w->order[at - 1];
        w->order[at] = moving;
    }
    return status;
}

/* ---- choosing -------------------------------------------------------------------------------- */

/* The step that was chosen is done. */
static vug_status go_on(wash *w)
{
    scene *s = w->s;
    const vugi_allocator *mem = &s->p->ctx->mem;
    const size_t cavities = s->o->cavities->cavity_count;
    vugi_outcome outcome = {.moved = 0.0};
    vug_moment **end = vugi_calloc(mem, cavities, sizeof *end);
    bool good = end && vugi_outcomes_make(mem, s->o->cavities, &outcome, 1);
    vug_status status = good ? VUG_OK : vugi_fail_memory(s->p->ctx);
    vugi_replay task = w->task[0];
    task.brief = true;
    if (!status)
        status = vugi_replay_drain_from(s->p->ctx, &task, w->now, s->down + s->washes, &outcome,
            end);
    for (size_t i = 0; i < cavities && end; i++) {
        vug_moment *old = w->now[i];
        w->now[i] = end[i];
        vug_moment_free(old);
    }
    vugi_outcomes_free(mem, &outcome, 1);
    vugi_free(mem, end);
    return status;
}

static vug_status choose(wash *w)
{
    scene *s = w->s;
    double least = fmax(LEAST_MM3, LEAST_SHARE * s->o->info.capacity_mm3);
    for (s->washes = 0; s->washes < VUGI_WASHES; s->washes++) {
        for (size_t i = 0; i < w->poses; i++)
            w->order[i] = i;
        vug_status status = try_first(w, try_order, w->poses);
        if (!status)
            status = try_first(w, try_clock, w->poses < TIMED ? w->poses : TIMED);
        if (status)
            return status;
        const size_t best = w->order[0];
        if (s->washes > 0 && w->gain[best] < least)
            break;
        memcpy(s->down[s->washes].up, w->up + 3 * best, sizeof s->down->up);
        if ((status = go_on(w)))
            return status;
    }
    return VUG_OK;
}

static vug_status find(scene *s)
{
    vugi_planning *p = s->p;
    const size_t cavities = s->o->cavities->cavity_count;
    wash w = {.s = s, .now = vugi_calloc(&p->ctx->mem, cavities, sizeof *w.now)};
    vug_status status = w.now ? VUG_OK : vugi_fail_memory(p->ctx);
    if (!status)
        status = vugi_bench_resin(p->ctx, &w.raw);
    for (int i = 0; i < LIQUIDS; i++)
        w.task[i] = (vugi_replay){.cavities = s->o->cavities,
            .closed = s->o->later,
            .fluid = i == 0 ? &p->solvent : &w.raw,
            .h = p->square / WASH_ACROSS,
            .plain = true};
    list_poses(&w);
    if (!status)
        status = choose(&w);
    for (size_t i = 0; i < cavities && w.now; i++)
        vug_moment_free(w.now[i]);
    vugi_free(&p->ctx->mem, w.now);
    return status;
}

/* Without holes in the model all alternatives are washed alike: then the poses are known after the first. */
vug_status vugi_wash_choose(scene *s)
{
    vugi_wash *known = &s->p->wash;
    const bool alike = !s->o->info.in_model;
    vug_status status = VUG_OK;
    if (!alike || known->count == 0)
        status = find(s);
    else
        s->washes = known->count;
    for (size_t k = 0; k < s->washes && alike && known->count > 0; k++)
        memcpy(s->down[k].up, known->up + 3 * k, sizeof s->down->up);
    if (!alike || status || known->count > 0)
        return status;
    known->count = s->washes;
    for (size_t k = 0; k < known->count; k++)
        memcpy(known->up + 3 * k, s->down[k].up, sizeof s->down->up);
    return VUG_OK;
}
