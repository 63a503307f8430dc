/* SPDX-License-Identifier: MIT
 * One cavity, step by step: each begins with what the one before left. */
#include "plan/verify/play.h"

#include "base/context_types.h"
#include "base/threads.h"
#include "cavity/spacing.h"
#include "course/course.h"
#include "course/levels.h"
#include "fill/fill.h"
#include "fill/waits.h"
#include "skin/wet.h"
#include "turn/turn.h"

#include <math.h>
#include <string.h>

typedef vugi_play play;

static void clear(play *p)
{
    vugi_free(&p->ctx->mem, p->start);
    vugi_scene_free(p->scene);
    p->start = NULL;
    p->scene = NULL;
}

static void leave(play *p)
{
    if (p->now != p->lent)
        vug_moment_free(p->now);
    p->now = NULL;
}

void vugi_play_stop(play *p)
{
    clear(p);
    leave(p);
}

/* ---- to a pose ---------------------------------------------------------------------- */

/* A pose and what is open in it; the context is that of the thread. */
typedef struct turning {
    vug_context *ctx;
    const double *up;
    const bool *open; /* NULL: all is covered, on the way */
} turning;

static vug_status make_scene(const play *p, const turning *to, vugi_scene **scene)
{
    const int sills = to->open ? p->sills : 0;
    vugi_stage stage = {.cavities = p->task->cavities,
        .cavity = p->cavity,
        .spacing = vugi_spacing_within(p->task->cavities, p->cavity, p->task->h),
        .open = to->open,
        .doors = sills == VUGI_SILLS_LIQUID && !p->task->brief, /* draining in time */
        .sills = p->task->plain ? 0 : sills,
        .dips = sills};
    memcpy(stage.up, to->up, sizeof stage.up);
    return vugi_stage_scene(to->ctx, &p->ctx->mem, &stage, scene);
}

/* From here on in this scene, with what was inside in it. */
static vug_status enter(play *p, vugi_scene *scene)
{
    clear(p);
    p->scene = scene;
    if (!p->now)
        return VUG_OK;
    p->start = vugi_alloc(&p->ctx->mem, p->scene->graph.arc_count, sizeof *p->start);
    vug_status status = p->start ? vugi_moment_look(p->ctx, p->now) : vugi_fail_memory(p->ctx);
    return status ? status : vugi_turn_levels(p->ctx, p->now, p->scene, p->start);
}

static vug_status keep_end(play *p, const vug_course *course)
{
    leave(p);
    return vug_course_at_time(p->ctx, course, INFINITY, &p->now);
}

vug_status vugi_play_job(const play *p, const double up[3], const bool *open, vugi_feed feed,
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
    options.inlet = feed.inlet;
    options.volume_mm3 = feed.most;
    for (size_t i = 0; i < c->opening_count; i++)
        role[i] = feed.inlet >= 0 && open[i] ? VUG_ROLE_OPEN : VUG_ROLE_SEALED;
    vug_status status = vugi_fill_read(p->ctx, c, p->task->fluid, up, role, c->opening_count,
        &options, p->cavity, j);
    vugi_free(&p->ctx->mem, role);
    return status;
}

vug_status vugi_play_fill(play *p, const vugi_move *move, vugi_feed feed, vug_course **course)
{
    vugi_fill_job j;
    vug_status status = vugi_play_job(p, move->up, move->open, feed, &j);
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

vug_status vugi_play_wet(play *p, const vug_course *course)
{
    if (!p->task->skin)
        return VUG_OK;
    vug_status status = vugi_moment_look(p->ctx, p->now);
    return status ? status : vugi_skin_wet(p->ctx, p->task->skin, p->task->fluid, course, p->now);
}

/* In a pose on the way: all openings are covered. */
static vug_status pass_by(play *p, const vugi_move *to, const double up[3])
{
    vugi_move there = *to;
    vug_course *course = NULL;
    memcpy(there.up, up, sizeof there.up);
    vug_status status = vugi_play_fill(p, &there, (vugi_feed){-1, 0.0}, &course);
    if (!status)
        status = keep_end(p, course);
    if (!status)
        status = vugi_play_wet(p, course);
    vug_course_free(course);
    return status;
}

vug_status vugi_play_remember(play *p)
{
    if (!p->now || p->task->brief)
        return VUG_OK;
    vug_status status = vugi_moment_look(p->ctx, p->now);
    return status ? status : vugi_chambers_liquid(p->ctx, p->now, p->before);
}

/* Those of up to VUGI_AHEAD poses; what a thread cannot make is tried once more in the caller's context, whose message it is. */
static vug_status make_scenes(const play *p, turning *to, size_t count, vugi_scene **scene)
{
    vug_status verdict[VUGI_AHEAD] = {VUG_OK}, status = vugi_step(p->ctx, p->done);
    const int threads = vugi_threads(p->ctx, count);
    (void)threads;
    if (status)
        return status;
#pragma omp parallel for schedule(dynamic, 1) num_threads(threads) if (threads > 1)
    for (size_t i = 0; i < count; i++) {
        vug_context own = vugi_context_beside(p->ctx);
        to[i].ctx = &own;
        verdict[i] = make_scene(p, to + i, scene + i);
    }
    if ((status = vugi_step(p->ctx, p->done)))
        return status;
    for (size_t i = 0; i < count && !status; i++) {
        to[i].ctx = p->ctx;
        if (verdict[i])
            status = make_scene(p, to + i, scene + i);
    }
    return status;
}

vug_status vugi_play_turn(play *p, const vugi_move *to)
{
    const size_t ways = p->now ? to->ways : 0;
    const size_t most = p->ctx->threads < VUGI_AHEAD ? p->ctx->threads : VUGI_AHEAD;
    vug_status status = VUG_OK;
    for (size_t i = 0; i <= ways && !status; i += most) {
        const size_t count = ways + 1 - i < most ? ways + 1 - i : most;
        vugi_scene *scene[VUGI_AHEAD] = {NULL};
        turning list[VUGI_AHEAD];
        for (size_t k = 0; k < count; k++)
            list[k] = i + k < ways ? (turning){.up = to->way + 3 * (i + k)}
                                   : (turning){.up = to->up, .open = to->open};
        status = make_scenes(p, list, count, scene);
        for (size_t k = 0; k < count; k++) {
            if (status) {
                vugi_scene_free(scene[k]);
                continue;
            }
            status = enter(p, scene[k]);
            if (!status && i + k < ways)
                status = pass_by(p, to, list[k].up);
        }
    }
    return status;
}

/* ---- what came of it ------------------------------------------------------------------ */

/* Openings whose air has become less between the first moment of a course and its last. */
static vug_status find_vents(const play *p, const vug_course *course, vugi_bitset *vent)
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
        if (course->open[port->mouth] && free && air != VUGI_NONE && gone[air] > VUGI_NOTHING_MM3)
            vugi_bitset_add(vent, (size_t)s->mouth[port->mouth].opening);
    }
    vugi_links_free(&p->ctx->mem, &links);
    vugi_free(&p->ctx->mem, first);
    vugi_free(&p->ctx->mem, gone);
    return status;
}

/* The waits of a course, and those of the outcome. What never passes is no wait where it counts as left, and so much
 * less is let in. */
static vug_status note_waits(const play *p, const vugi_move *move, vug_course *course,
    vugi_outcome *outcome)
{
    const vugi_feed feed = move->feed[p->cavity];
    const bool counted = feed.inlet < 0 || feed.most > 0.0;
    vugi_fill_job j;
    vug_status status = vugi_play_job(p, move->up, move->open, feed, &j);
    j.start = p->start;
    j.options.fluid_low = p->task->fluid_low;
    j.options.fluid_high = p->task->fluid_high;
    if (!status)
        status = vugi_fill_waits(p->ctx, &j, p->now ? p->before : NULL, course);
    vugi_fill_job_free(p->ctx, &j);
    for (size_t n = 0; n < course->history.event_count && !status; n++) {
        const double *wait = course->history.event[n].wait;
        for (int i = 0; i < 3 && (wait[0] >= 0.0 || !counted); i++)
            outcome->wait[i] = wait[i] < 0.0 || outcome->wait[i] < 0.0
                ? -1.0
                : fmax(wait[i], outcome->wait[i]);
    }
    return status;
}

vug_status vugi_play_note(play *p, const vugi_move *move, vug_course *course, vugi_outcome *outcome)
{
    const vug_course_info *s = &course->summary;
    vug_status status = p->task->brief ? VUG_OK : note_waits(p, move, course, outcome);
    if (!status)
        status = keep_end(p, course);
    if (status)
        return status;
    double moved = s->liquid_mm3 - s->start_mm3;
    outcome->moved += moved;
    outcome->left += s->trapped_mm3 + s->empty_mm3;
    outcome->empty += s->empty_mm3;
    if (p->task->brief)
        return VUG_OK;
    outcome->moved_by[p->cavity] = moved;
    for (size_t i = 0; i < course->history.event_count; i++) {
        const vugi_event *e = course->history.event + i;
        bool ends = e->opening == s->inlet && e->liquid >= s->liquid_mm3 - VUGI_NOTHING_MM3;
        if (e->kind == VUG_EVENT_SPILL && e->opening >= 0 && !ends)
            vugi_bitset_add(&outcome->shown, (size_t)e->opening);
    }
    return find_vents(p, course, &outcome->through);
}

void vugi_play_note_empty(const play *p, vugi_outcome *outcome)
{
    outcome->left += p->task->cavities->cavity[p->cavity].volume;
}
