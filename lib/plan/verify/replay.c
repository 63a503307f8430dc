/* SPDX-License-Identifier: MIT
 * Steps played with the simulations. */
#include "plan/verify/replay.h"

#include "course/course.h"
#include "course/levels.h"
#include "drain/breakout.h"
#include "drain/emptying.h"
#include "fill/fill.h"
#include "fill/rate.h"
#include "plan/verify/play.h"
#include "turn/made.h"

#include <assert.h>
#include <math.h>
#include <string.h>

typedef vugi_play play;

bool vugi_replay_reached(const vugi_replay *t, size_t cavity)
{
    for (size_t i = 0; i < t->cavities->opening_count; i++)
        if (t->cavities->opening[i].cavity == (int32_t)cavity && !t->closed[i])
            return true;
    return false;
}

double vugi_replay_room(const vugi_replay *task)
{
    double room = 0.0;
    for (size_t i = 0; i < task->cavities->cavity_count; i++)
        room += vugi_replay_reached(task, i) ? task->cavities->cavity[i].volume : 0.0;
    return room;
}

double vugi_replay_skin(const vugi_replay *task)
{
    double skin = 0.0;
    for (size_t i = 0; i < task->cavities->cavity_count; i++)
        skin += vugi_replay_reached(task, i) ? task->cavities->cavity[i].area : 0.0;
    return skin;
}

double vugi_replay_share(const vugi_replay *t, size_t cavity, size_t step, size_t steps, double lo,
    double hi)
{
    return lo
        + (hi - lo) * (double)(cavity * steps + step) / (double)(t->cavities->cavity_count * steps);
}

/* ---- filling --------------------------------------------------------------------------- */

/* Is something inside at first that no feed brings in? */
static bool begins(const play *p, size_t k)
{
    const vugi_start *s = p->task->start;
    return k == 0 && s && s->inlet < 0 && s->cavity == p->cavity;
}

/* What is inside at first, in the pose that it is in. */
static vug_status begin(play *p)
{
    const vugi_start *s = p->task->start;
    const size_t arcs = p->scene->graph.arc_count;
    vug_status status = vugi_moment_made(p->ctx, p->scene, s->liquid, s->air, s->air_count,
        &p->now);
    if (status)
        return status;
    p->start = vugi_alloc(&p->ctx->mem, arcs, sizeof *p->start);
    if (!p->start)
        return vugi_fail_memory(p->ctx);
    memcpy(p->start, p->now->level, arcs * sizeof *p->start);
    return vugi_play_remember(p);
}

vug_status vugi_replay_step(play *p, const vugi_move *move, size_t k, vugi_outcome *outcome)
{
    const vugi_feed feed = move[k].feed[p->cavity];
    vug_course *course = NULL;
    if (!p->now && feed.inlet < 0 && !begins(p, k)) {
        vugi_play_note_empty(p, outcome);
        return VUG_OK;
    }
    vug_status status = vugi_play_remember(p);
    if (!status)
        status = vugi_play_turn(p, move + k);
    if (!status && begins(p, k))
        status = begin(p);
    if (!status)
        status = vugi_play_fill(p, move + k, feed, &course);
    if (!status)
        status = vugi_play_note(p, move + k, course, outcome);
    if (!status)
        status = vugi_play_wet(p, course);
    vug_course_free(course);
    return status;
}

static bool has_enough(const play *p, double left)
{
    const double enough = p->task->enough * p->task->cavities->cavity[p->cavity].volume;
    return enough > 0.0 && left <= enough;
}

/* One cavity, from where it stands up to step `last` of all. */
static vug_status fill_on(play *p, const vugi_move *move, vugi_stand *stand, size_t last,
    size_t steps, vugi_outcome *outcome)
{
    vug_status status = VUG_OK;
    for (; stand->steps < last && !status && !has_enough(p, stand->left); stand->steps++) {
        vugi_outcome *own = outcome + stand->steps;
        const double others = own->left;
        p->done = vugi_replay_share(p->task, p->cavity, stand->steps, steps, 0.3, 0.7);
        status = vugi_replay_step(p, move, stand->steps, own);
        stand->left = own->left - others;
    }
    return status;
}

vug_status vugi_replay_fill(vug_context *ctx, const vugi_replay *task, const vugi_move *move,
    size_t steps, vugi_outcome *outcome)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; i < task->cavities->cavity_count && !status; i++) {
        play p = {.ctx = ctx, .task = task, .sills = VUGI_SILLS_AIR, .cavity = i};
        vugi_stand stand = {.left = INFINITY};
        if (!vugi_replay_reached(task, i))
            continue;
        status = fill_on(&p, move, &stand, steps, steps, outcome);
        vugi_play_stop(&p);
    }
    return status;
}

vug_status vugi_replay_fill_from(vug_context *ctx, const vugi_replay *task, const vugi_move *move,
    size_t keep, size_t steps, vugi_outcome *outcome, vugi_stand *stand, double *left, bool *whole)
{
    vug_status status = VUG_OK;
    *whole = true;
    for (size_t i = 0; i < task->cavities->cavity_count && !status; i++) {
        play p = {.ctx = ctx, .task = task, .sills = VUGI_SILLS_AIR, .cavity = i};
        left[i] = 0.0;
        if (!vugi_replay_reached(task, i))
            continue;
        assert(stand[i].steps <= keep && keep <= steps);
        p.now = stand[i].now;
        status = fill_on(&p, move, stand + i, keep, steps, outcome);
        p.lent = stand[i].now = p.now;
        vugi_stand end = stand[i];
        if (!status && end.steps == keep)
            status = fill_on(&p, move, &end, steps, steps, outcome);
        left[i] = end.left;
        *whole &= end.steps == steps;
        vugi_play_stop(&p);
    }
    return status;
}

vug_status vugi_replay_start(vug_context *ctx, const vugi_replay *task, vug_moment **now)
{
    const vugi_start *s = task->start;
    const vug_cavities *c = task->cavities;
    play p = {.ctx = ctx, .task = task, .sills = VUGI_SILLS_AIR, .cavity = s->cavity};
    vugi_move move;
    vugi_outcome outcome;
    bool good = vugi_moves_make(&ctx->mem, c, &move, 1);
    good &= vugi_outcomes_make(&ctx->mem, c, &outcome, 1);
    vug_status status = good ? VUG_OK : vugi_fail_memory(ctx);
    memcpy(move.up, s->up, sizeof move.up);
    for (size_t i = 0; i < c->opening_count && good; i++)
        move.open[i] = !task->closed[i] && s->inlet >= 0;
    if (good)
        move.feed[s->cavity] = (vugi_feed){s->inlet, s->inlet >= 0 ? s->liquid : 0.0};
    if (!status)
        status = vugi_replay_step(&p, &move, 0, &outcome);
    *now = p.now;
    p.now = NULL;
    vugi_play_stop(&p);
    vugi_moves_free(&ctx->mem, &move, 1);
    vugi_outcomes_free(&ctx->mem, &outcome, 1);
    return status;
}

/* ---- draining ----------------------------------------------------------------------------- */

/* Openings that stood under liquid: it leaves by them, but for the highest, where air comes in if there is a
 * lower one. */
static void find_outlets(const play *p, const double *level, vugi_bitset *outlet)
{
    const vugi_scene *s = p->scene;
    const double even = 0.05; /* mm: openings at one height */
    double high = -INFINITY, low = INFINITY;
    for (size_t m = 0; m < s->mouth_count; m++) {
        if (p->task->closed[s->mouth[m].opening])
            continue;
        high = fmax(high, s->mouth[m].top);
        low = fmin(low, s->mouth[m].top);
    }
    for (size_t i = 0; i < s->lip_count; i++) {
        const vugi_port *port = s->lip + i;
        const vugi_scene_mouth *m = s->mouth + port->mouth;
        bool wet = !level || level[port->arc] > port->z;
        bool air = m->top >= high && low < high - even;
        if (wet && !air && !p->task->closed[m->opening])
            vugi_bitset_add(outlet, (size_t)m->opening);
    }
}

/* What runs out by itself within a day, with the wait half as long again: until when, and what is inside then. */
static double find_running(const vug_course *course, bool runs, double before, double *time)
{
    const double patience_s = 57600.0;
    const vug_course_info *s = &course->summary;
    double liquid = before;
    *time = -1.0;
    if (runs && s->time_s >= 0.0 && s->time_s <= patience_s) {
        *time = s->time_s;
        return s->liquid_mm3;
    }
    for (size_t i = 0; i < course->history.frame_count && runs; i++) {
        const vugi_frame *f = course->history.frame + i;
        if (f->time > patience_s || f->liquid > liquid)
            continue;
        liquid = f->liquid;
        *time = f->time;
    }
    if (before - liquid <= VUGI_NOTHING_MM3)
        *time = -1.0;
    return liquid;
}

static void note_drain(const play *p, const vugi_move *move, const vug_course *course,
    double before, vugi_outcome *outcome)
{
    const vug_course_info *s = &course->summary;
    double moved = before - s->liquid_mm3, time;
    bool runs = vugi_breaks_out(p->task->fluid, p->task->cavities, p->task->closed, p->cavity,
        move->up);
    double inside = find_running(course, runs, before, &time);
    outcome->moved += moved;
    outcome->left += s->liquid_mm3;
    outcome->film += s->film_mm3;
    if (moved <= VUGI_NOTHING_MM3)
        return;
    outcome->moved_by[p->cavity] = fmax(0.0, inside - s->liquid_mm3);
    outcome->stuck += outcome->moved_by[p->cavity];
    if (time >= 0.0)
        outcome->time = fmax(outcome->time, time);
    else if (outcome->time == 0.0) /* nor has anything run out of a cavity before */
        outcome->time = -1.0;
}

/* From where it is. Where the clock finds no end, it is drained without times. */
static vug_status drain_course(const play *p, const vugi_move *move, bool timed, vug_course **out)
{
    vug_course *course = vugi_course_new(p->ctx, p->scene);
    if (!course)
        return vugi_fail_memory(p->ctx);
    for (uint32_t m = 0; m < p->scene->mouth_count; m++)
        course->open[m] = move->open[p->scene->mouth[m].opening];
    vug_status status = vugi_emptying_run(p->ctx, course, timed ? p->task->fluid : NULL, p->start);
    if (status) {
        vug_course_free(course);
        return status == VUG_ERR_CONVERGENCE && timed ? drain_course(p, move, false, out) : status;
    }
    vugi_emptying_film(course, p->task->fluid, p->task->cavities->cavity[p->cavity].area,
        VUGI_DRIP_S);
    *out = course;
    return VUG_OK;
}

/* end: what is inside after it. */
static vug_status drain_step(play *p, const vugi_move *move, vugi_outcome *outcome,
    vug_moment **end)
{
    vug_course *course = NULL;
    vug_status status = vugi_play_turn(p, move);
    if (!status)
        status = drain_course(p, move, !p->task->brief, &course);
    if (status)
        return status;
    const vugi_graph *g = &p->scene->graph;
    double before = p->start ? vugi_levels_volume(g, p->start) : g->capacity;
    if (before - course->summary.liquid_mm3 > VUGI_NOTHING_MM3)
        find_outlets(p, p->start, &outcome->through);
    note_drain(p, move, course, before, outcome);
    status = vug_course_at_time(p->ctx, course, INFINITY, end);
    vug_course_free(course);
    return status;
}

vug_status vugi_replay_drain_from(vug_context *ctx, const vugi_replay *task, vug_moment *const *now,
    const vugi_move *move, vugi_outcome *outcome, vug_moment **end)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; i < task->cavities->cavity_count && !status; i++) {
        play p = {.ctx = ctx, .task = task, .sills = VUGI_SILLS_LIQUID, .cavity = i, .now = now[i]};
        vug_moment *after = NULL;
        if (!vugi_replay_reached(task, i))
            continue;
        status = drain_step(&p, move, outcome, &after);
        p.now = NULL; /* the caller's */
        vugi_play_stop(&p);
        if (!status && end) /* several threads may go on from it */
            status = vugi_moment_look(ctx, after);
        if (end)
            end[i] = after;
        else
            vug_moment_free(after);
    }
    return status;
}

vug_status vugi_replay_drain(vug_context *ctx, const vugi_replay *task, const vugi_move *move,
    size_t steps, vugi_outcome *outcome)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; i < task->cavities->cavity_count && !status; i++) {
        play p = {.ctx = ctx, .task = task, .sills = VUGI_SILLS_LIQUID, .cavity = i};
        for (size_t k = 0; k < steps && !status && vugi_replay_reached(task, i); k++) {
            vug_moment *end = NULL;
            p.done = vugi_replay_share(task, i, k, steps, 0.7, 0.9);
            status = drain_step(&p, move + k, outcome + k, &end);
            vug_moment_free(p.now);
            p.now = end;
        }
        vugi_play_stop(&p);
    }
    return status;
}

/* ---- not too fast ---------------------------------------------------------------------------- */

vug_status vugi_replay_rate(vug_context *ctx, const vugi_replay *task, const vugi_move *move,
    int32_t inlet, const vugi_bitset *shown, double *rate)
{
    assert(inlet >= 0);
    play p = {.ctx = ctx,
        .task = task,
        .sills = VUGI_SILLS_AIR,
        .cavity = (size_t)task->cavities->opening[inlet].cavity};
    vugi_fill_job j = {.role = NULL};
    vug_status status = vugi_play_turn(&p, move);
    if (!status)
        status = vugi_play_job(&p, move->up, move->open, (vugi_feed){inlet, 0.0}, &j);
    j.covered = shown;
    if (!status)
        status = vugi_rate_limit(ctx, &j, p.scene, rate);
    if (*rate >= VUGI_RATE_MOST || *rate <= 1.02 * VUGI_RATE_LEAST) /* the search's own ends */
        *rate = 0.0;
    vugi_fill_job_free(ctx, &j);
    vugi_play_stop(&p);
    return status;
}
