/* SPDX-License-Identifier: MIT
 * A sequence of poses played with the fill simulation: each step begins with what the one before left. */
#include "plan/verify/replay.h"

#include "cavity/rim.h"
#include "course/course.h"
#include "drain/emptying.h"
#include "fill/fill.h"
#include "fill/job.h"
#include "fill/rate.h"
#include "fill/waits.h"
#include "pose/rotation.h"
#include "turn/turn.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Liquid less than this is none, mm3. */
static const double NOTHING = 0.5;

typedef struct play {
    vug_context *ctx;
    const vugi_replay *task;
    size_t cavity;
    double done;       /* share of the whole task, for the progress */
    vug_moment *now;   /* what is in it; NULL: before the first step */
    vugi_scene *scene; /* of this pose */
    double *start;     /* of each arc of it: what was carried over; NULL before the first step */
} play;

static void clear(play *p)
{
    vugi_free(&p->ctx->mem, p->start);
    vugi_scene_free(p->scene);
    p->start = NULL;
    p->scene = NULL;
}

static void stop(play *p)
{
    clear(p);
    vug_moment_free(p->now);
    p->now = NULL;
}

/* ---- to a pose ---------------------------------------------------------------------- */

/* The scene of a pose, and what was inside in it. */
static vug_status turn_to(play *p, const double up[3])
{
    vugi_stage stage = {.cavities = p->task->cavities, .cavity = p->cavity, .spacing = p->task->h};
    memcpy(stage.up, up, sizeof stage.up);
    clear(p);
    vug_status status = vugi_step(p->ctx, p->done);
    if (!status)
        status = vugi_stage_scene(p->ctx, &p->ctx->mem, &stage, &p->scene);
    if (status || !p->now)
        return status;
    p->start = vugi_alloc(&p->ctx->mem, p->scene->graph.arc_count, sizeof *p->start);
    return p->start ? vugi_turn_levels(p->ctx, p->now, p->scene, p->start)
                    : vugi_fail_memory(p->ctx);
}

static vug_status keep_end(play *p, const vug_course *course)
{
    vug_moment_free(p->now);
    p->now = NULL;
    return vug_course_at_time(p->ctx, course, INFINITY, &p->now);
}

static vug_status read_job(const play *p, const double up[3], bool covered, int32_t inlet,
    vugi_fill_job *j)
{
    const vug_cavities *c = p->task->cavities;
    int32_t *role = vugi_alloc(&p->ctx->mem, c->opening_count, sizeof *role);
    vug_fill_options options;
    *j = (vugi_fill_job){.role = NULL};
    if (!role)
        return vugi_fail_memory(p->ctx);
    vug_fill_options_init(&options, sizeof options);
    options.spacing_mm = p->task->h;
    options.inlet = inlet;
    options.fluid_low = p->task->fluid_low;
    options.fluid_high = p->task->fluid_high;
    for (size_t i = 0; i < c->opening_count; i++)
        role[i] = covered || p->task->closed[i] ? VUG_ROLE_SEALED : VUG_ROLE_OPEN;
    vug_status status = vugi_fill_read(p->ctx, c, p->task->fluid, up, role, c->opening_count,
        &options, p->cavity, j);
    vugi_free(&p->ctx->mem, role);
    return status;
}

/* A pose on the way: all openings are covered. */
static vug_status pass_by(play *p, const double up[3])
{
    vugi_fill_job j = {.role = NULL};
    vug_course *course = NULL;
    vug_status status = turn_to(p, up);
    if (!status)
        status = read_job(p, up, true, -1, &j);
    j.start = p->start;
    if (!status)
        status = vugi_fill_scene(p->ctx, &j, p->scene, &course);
    vugi_fill_job_free(p->ctx, &j);
    if (!status)
        status = keep_end(p, course);
    vug_course_free(course);
    return status;
}

/* From the pose before number k of the task to that one. sign: -1 upside down. */
static vug_status come_to(play *p, size_t k, double sign)
{
    const vugi_replay *t = p->task;
    const double *to = t->up + 3 * k;
    double axis[3], angle = 0.0, up[3];
    vug_status status = VUG_OK;
    if (k > 0 && t->turn_step_deg > 0.0)
        vugi_rotation_between(to - 3, to, axis, &angle);
    int parts = angle > 0.0 ? (int)ceil(angle / t->turn_step_deg) : 1;
    for (int i = 1; i <= parts && !status; i++) {
        if (i < parts)
            vugi_rotation_up(to - 3, axis, angle * i / parts, up);
        else
            memcpy(up, to, sizeof up);
        for (int m = 0; m < 3; m++)
            up[m] *= sign;
        status = i < parts ? pass_by(p, up) : turn_to(p, up);
    }
    return status;
}

/* ---- filling --------------------------------------------------------------------------- */

typedef struct place {
    double lip;
    int32_t opening;
} place;

/* Openings to try as inlet, the one with the highest lip first: what it fills the others do not spill. */
static size_t list_inlets(const play *p, const double up[3], place *list)
{
    const vug_cavities *c = p->task->cavities;
    size_t n = 0;
    for (size_t i = 0; i < c->opening_count; i++) {
        double top, lip;
        bool other = p->task->inlet >= 0 && c->opening[p->task->inlet].cavity == (int32_t)p->cavity
            && p->task->inlet != (int32_t)i;
        if (c->opening[i].cavity != (int32_t)p->cavity || p->task->closed[i] || other)
            continue;
        vugi_opening_outer_rim(c->opening + i, up, &top, &lip);
        size_t at = n++;
        for (; at > 0 && lip > list[at - 1].lip + 1e-9; at--)
            list[at] = list[at - 1];
        list[at] = (place){lip, (int32_t)i};
    }
    return n;
}

/* Openings whose air has become less between the first moment of a course and its last. */
static vug_status find_vents(play *p, const vug_course *course, vugi_bitset *vent)
{
    const vugi_scene *s = course->scene;
    const vugi_graph *g = &s->graph;
    vugi_links links = {.air = NULL};
    vugi_frame frame;
    double *first = vugi_alloc(&p->ctx->mem, g->arc_count, sizeof *first);
    double *gone = vugi_calloc(&p->ctx->mem, g->arc_count, sizeof *gone);
    vug_status status = vugi_links_alloc(&p->ctx->mem, g, &links) && first && gone
        ? VUG_OK
        : vugi_fail_memory(p->ctx);
    if (!status) {
        vugi_history_at(&course->history, g, -INFINITY, false, first, &frame);
        vugi_links_find(s, first, course->open, &links);
    }
    for (uint32_t a = 0; a < g->arc_count && !status; a++)
        if (links.air[a] != VUGI_NONE)
            gone[links.air[a]] += vugi_arc_volume(g, a, p->now->level[a])
                - vugi_arc_volume(g, a, first[a]);
    for (size_t i = 0; i < s->vent_count && !status; i++) {
        const vugi_port *port = s->vent + i;
        uint32_t air = links.air[port->arc];
        bool free = vugi_port_free(g, first, port);
        if (course->open[port->mouth] && free && air != VUGI_NONE && gone[air] > NOTHING)
            vugi_bitset_add(vent, (size_t)s->mouth[port->mouth].opening);
    }
    vugi_links_free(&p->ctx->mem, &links);
    vugi_free(&p->ctx->mem, first);
    vugi_free(&p->ctx->mem, gone);
    return status;
}

/* Which inlet paint comes in by decides what it cuts off. Another than the one with the highest lip leaks
 * beside the needle, so it has to be worth it: by a hundredth of the cavity, or if room is left that has a
 * vent. */
static double better_by(const vug_course *best)
{
    return best->summary.empty_mm3 > NOTHING ? NOTHING : 0.01 * best->summary.capacity_mm3;
}

static bool is_better(const vug_course *course, const vug_course *best)
{
    return !best || course->summary.liquid_mm3 > best->summary.liquid_mm3 + better_by(best);
}

/* A fill by one inlet. */
static vug_status fill_by(play *p, const double up[3], int32_t inlet, vug_course **course)
{
    vugi_fill_job j;
    vug_status status = read_job(p, up, false, inlet, &j);
    j.start = p->start;
    if (!status)
        status = vugi_fill_scene(p->ctx, &j, p->scene, course);
    if (status
        == VUG_ERR_CONVERGENCE) { /* air that gives has no rest here: then it keeps its volume */
        j.options.rigid_air = 1;
        status = vugi_fill_scene(p->ctx, &j, p->scene, course);
    }
    vugi_fill_job_free(p->ctx, &j);
    return status;
}

/* Inlets that are tried in each pose. A sieve has hundreds side by side that fill the same: those with
 * the highest lips stand for them. */
enum { MOST_INLETS = 64 };

/* Nothing is better than what fills all but the margin. */
static bool is_best(const vug_course *course)
{
    const vug_course_info *s = &course->summary;
    return s->liquid_mm3 + better_by(course) > s->capacity_mm3 * (1.0 + 1e-9);
}

/* Fills from where the cavity stands by the best inlet. */
static vug_status fill_best(play *p, const double up[3], vug_course **best)
{
    const vugi_allocator *mem = &p->ctx->mem;
    place *list = vugi_alloc(mem, p->task->cavities->opening_count, sizeof *list);
    vug_status status = list ? VUG_OK : vugi_fail_memory(p->ctx);
    size_t count = list ? list_inlets(p, up, list) : 0;
    for (size_t i = 0; i < count && i < MOST_INLETS && !status; i++) {
        vug_course *course = NULL;
        status = vugi_step(p->ctx, p->done);
        if (!status)
            status = fill_by(p, up, list[i].opening, &course);
        if (status)
            break;
        bool better = is_better(course, *best);
        vug_course_free(better ? *best : course);
        *best = better ? course : *best;
        if (is_best(*best))
            break;
    }
    vugi_free(mem, list);
    return status;
}

/* The waits of the step's own fill. before: liquid in the chambers before the turn; NULL: none. */
static vug_status wait_for(play *p, const double *before, vug_course *course,
    vugi_replay_step *step)
{
    vugi_fill_job j;
    vug_status status = read_job(p, course->scene->up, false, course->summary.inlet, &j);
    j.start = p->start;
    if (!status)
        status = vugi_fill_waits(p->ctx, &j, before, course);
    vugi_fill_job_free(p->ctx, &j);
    for (size_t n = 0; n < course->history.event_count && !status; n++) {
        const double *wait = course->history.event[n].wait;
        for (int i = 0; i < 3 && wait[0] >= 0.0; i++) /* what does not pass counts as left */
            step->wait[i] = wait[i] < 0.0 || step->wait[i] < 0.0 ? -1.0
                                                                 : fmax(wait[i], step->wait[i]);
    }
    return status;
}

/* most: the largest amount that went in by one inlet so far. */
static vug_status fill_step(play *p, size_t k, double *most, vugi_replay_step *step)
{
    assert(k < p->task->steps);
    const double *up = p->task->up + 3 * k;
    double before[VUGI_CHAMBERS];
    bool turned = p->now != NULL;
    vug_course *course = NULL;
    vug_status status = turned ? vugi_chambers_liquid(p->ctx, p->now->scene, p->now->level, before)
                               : VUG_OK;
    if (!status)
        status = come_to(p, k, 1.0);
    if (!status)
        status = fill_best(p, up, &course);
    if (!status && !course) {
        step->left += p->scene->graph.capacity;
        return VUG_OK;
    }
    if (!status)
        status = wait_for(p, turned ? before : NULL, course, step);
    if (!status)
        status = keep_end(p, course);
    if (!status) {
        const vug_course_info *s = &course->summary;
        double moved = s->liquid_mm3 - s->start_mm3;
        step->moved += moved;
        step->feed[p->cavity] = (vugi_feed){s->inlet, moved};
        step->left += s->trapped_mm3 + s->empty_mm3;
        step->cut_off += s->empty_mm3;
        if (moved > NOTHING && moved > *most) {
            *most = moved;
            step->inlet = s->inlet;
        }
        status = find_vents(p, course, &step->vent);
    }
    vug_course_free(course);
    return status;
}

static bool any_open(const vugi_replay *t, size_t cavity)
{
    for (size_t i = 0; i < t->cavities->opening_count; i++)
        if (t->cavities->opening[i].cavity == (int32_t)cavity && !t->closed[i])
            return true;
    return false;
}

/* Of the way from lo to hi. */
static double share(const vugi_replay *t, size_t cavity, size_t step, double lo, double hi)
{
    return lo
        + (hi - lo) * (double)(cavity * t->steps + step)
        / (double)(t->cavities->cavity_count * t->steps);
}

double vugi_replay_room(const vugi_replay *task)
{
    double room = 0.0;
    for (size_t i = 0; i < task->cavities->cavity_count; i++)
        room += any_open(task, i) ? task->cavities->cavity[i].volume : 0.0;
    return room;
}

vug_status vugi_replay_fill(vug_context *ctx, const vugi_replay *task, vugi_replay_step *step)
{
    double most[VUG_MAX_TURNS + 1] = {0.0};
    vug_status status = VUG_OK;
    for (size_t k = 0; k < task->steps; k++) {
        step[k] = (vugi_replay_step){.inlet = -1};
        step[k].feed = vugi_calloc(&ctx->mem, task->cavities->cavity_count, sizeof(vugi_feed));
        if (!step[k].feed
            || !vugi_bitset_make(&ctx->mem, task->cavities->opening_count, &step[k].vent))
            status = vugi_fail_memory(ctx);
    }
    for (size_t i = 0; i < task->cavities->cavity_count && !status; i++) {
        play p = {.ctx = ctx, .task = task, .cavity = i};
        for (size_t k = 0; k < task->steps && !status; k++) {
            p.done = share(task, i, k, 0.3, 0.7);
            if (any_open(task, i))
                status = fill_step(&p, k, most + k, step + k);
            else
                step[k].left += task->cavities->cavity[i].volume;
        }
        stop(&p);
    }
    return status;
}

void vugi_replay_step_free(const vugi_allocator *mem, vugi_replay_step *step)
{
    vugi_bitset_free(mem, &step->vent);
    vugi_free(mem, step->feed);
    step->feed = NULL;
}

/* ---- draining ----------------------------------------------------------------------------- */

static vug_status drain_step(play *p, size_t k, vugi_replay_step *step)
{
    assert(k < p->task->steps);
    vug_status status = come_to(p, k, -1.0);
    if (status)
        return status;
    const vugi_graph *g = &p->scene->graph;
    vug_course *course = vugi_course_new(p->ctx, p->scene);
    if (!course)
        return vugi_fail_memory(p->ctx);
    double before = p->start ? vugi_levels_volume(g, p->start) : g->capacity;
    for (uint32_t m = 0; m < p->scene->mouth_count; m++)
        course->open[m] = !p->task->closed[p->scene->mouth[m].opening];
    status = vugi_emptying_run(p->ctx, course, p->task->fluid, p->start);
    if (!status)
        status = keep_end(p, course);
    if (!status) {
        const vug_course_info *s = &course->summary;
        step->moved += before - s->liquid_mm3;
        step->left += s->liquid_mm3;
        if (step->time >= 0.0 && before - s->liquid_mm3 > NOTHING)
            step->time = s->time_s < 0.0 ? -1.0 : fmax(step->time, s->time_s);
    }
    vug_course_free(course);
    return status;
}

vug_status vugi_replay_drain(vug_context *ctx, const vugi_replay *task, vugi_replay_step *step)
{
    vug_status status = VUG_OK;
    for (size_t k = 0; k < task->steps; k++)
        step[k] = (vugi_replay_step){.inlet = -1};
    for (size_t i = 0; i < task->cavities->cavity_count && !status; i++) {
        play p = {.ctx = ctx, .task = task, .cavity = i};
        for (size_t k = 0; k < task->steps && !status && any_open(task, i); k++) {
            p.done = share(task, i, k, 0.7, 0.9);
            status = drain_step(&p, k, step + k);
        }
        stop(&p);
    }
    return status;
}

/* ---- not too fast ---------------------------------------------------------------------------- */

vug_status vugi_replay_rate(vug_context *ctx, const vugi_replay *task, const uint32_t *cover,
    size_t cover_count, double *rate)
{
    play p = {.ctx = ctx,
        .task = task,
        .cavity = (size_t)task->cavities->opening[task->inlet].cavity};
    vugi_fill_job j = {.role = NULL};
    vugi_bitset covered;
    vug_status status = vugi_bitset_make(&ctx->mem, task->cavities->opening_count, &covered)
        ? turn_to(&p, task->up)
        : vugi_fail_memory(ctx);
    for (size_t i = 0; i < cover_count && !status; i++)
        vugi_bitset_add(&covered, cover[i]);
    if (!status)
        status = read_job(&p, task->up, false, task->inlet, &j);
    j.covered = &covered;
    if (!status)
        status = vugi_rate_limit(ctx, &j, p.scene, rate);
    if (*rate >= VUGI_RATE_MOST || *rate <= 1.02 * VUGI_RATE_LEAST) /* the search's own ends */
        *rate = 0.0;
    vugi_fill_job_free(ctx, &j);
    vugi_bitset_free(&ctx->mem, &covered);
    stop(&p);
    return status;
}
