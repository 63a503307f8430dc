/* SPDX-License-Identifier: MIT
 * Which openings paint is let in by and which are kept covered. */
#include "plan/verify/decide.h"

#include "cavity/rim.h"
#include "plan/verify/play.h"

#include <assert.h>
#include <math.h>
#include <string.h>

typedef vugi_play play;

/* Openings under paint are covered if that keeps no more air in than this share of the cavity. */
static const double COVER_MARGIN = 2e-4;

/* What a hand can measure out, mm3, and the share of a small cavity that is worth it all the same (common practice, no
 * source): less waits for the next step. */
static const double WORTH_MM3 = 50.0, WORTH_SHARE = 0.005;

/* ---- by which opening ------------------------------------------------------------------ */

/* A usual blunt needle for paint, 16 G, passes no narrower opening. */
static const double NEEDLE_MM = 1.651;

typedef struct place {
    bool narrow;
    double lip;
    int32_t opening;
} place;

static bool before(const place *a, const place *b)
{
    return a->narrow != b->narrow ? b->narrow : a->lip > b->lip + 1e-9;
}

/* Openings to try as inlet: those that a needle passes first, and of these the one with the highest lip: what it
 * fills the others do not spill. */
static size_t list_inlets(const play *p, const vugi_decision *wish, const vugi_move *move,
    place *list)
{
    const vug_cavities *c = p->task->cavities;
    size_t n = 0;
    for (size_t i = 0; i < c->opening_count; i++) {
        double top, lip;
        bool other = wish->inlet >= 0 && c->opening[wish->inlet].cavity == (int32_t)p->cavity
            && wish->inlet != (int32_t)i;
        if (c->opening[i].cavity != (int32_t)p->cavity || !move->open[i] || other)
            continue;
        vugi_opening_outer_rim(c->opening + i, move->up, &top, &lip);
        const place own = {2.0 * c->opening[i].inscribed_radius < NEEDLE_MM, lip, (int32_t)i};
        size_t at = n++;
        for (; at > 0 && before(&own, list + at - 1); at--)
            list[at] = list[at - 1];
        list[at] = own;
    }
    return n;
}

/* Which inlet paint comes in by decides what it cuts off. Another than the one with the highest lip leaks
 * beside the needle, so it has to be worth it: by a hundredth of the cavity, or if room is left that has a
 * vent. */
static double better_by(const vug_course *best)
{
    return best->summary.empty_mm3 > VUGI_NOTHING_MM3 ? VUGI_NOTHING_MM3
                                                      : 0.01 * best->summary.capacity_mm3;
}

static bool is_better(const vug_course *course, const vug_course *best)
{
    return !best || course->summary.liquid_mm3 > best->summary.liquid_mm3 + better_by(best);
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

/* Fills from where the cavity stands by the best inlet, with what the move leaves open. */
static vug_status fill_best(play *p, const vugi_decision *wish, const vugi_move *move,
    vug_course **best)
{
    const vugi_allocator *mem = &p->ctx->mem;
    place *list = vugi_alloc(mem, p->task->cavities->opening_count, sizeof *list);
    vug_status status = list ? VUG_OK : vugi_fail_memory(p->ctx);
    size_t count = list ? list_inlets(p, wish, move, list) : 0;
    for (size_t i = 0; i < count && i < MOST_INLETS && !status; i++) {
        vug_course *course = NULL;
        status = vugi_step(p->ctx, p->done);
        if (!status)
            status = vugi_play_fill(p, move, (vugi_feed){list[i].opening, 0.0}, &course);
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

/* ---- what is covered --------------------------------------------------------------------- */

static void cover_all(const play *p, vugi_move *move)
{
    const vug_cavities *c = p->task->cavities;
    for (size_t i = 0; i < c->opening_count; i++)
        if (c->opening[i].cavity == (int32_t)p->cavity)
            move->open[i] = false;
}

/* All that are there in step k. */
static void open_all(const play *p, const vugi_decision *wish, size_t k, vugi_move *move)
{
    const vug_cavities *c = p->task->cavities;
    for (size_t i = 0; i < c->opening_count; i++)
        if (c->opening[i].cavity == (int32_t)p->cavity)
            move->open[i] = !p->task->closed[i] && (!wish->from || wish->from[i] <= k);
}

/* Covers those in which paint shows; standing: only those that stand under it when they would be opened. */
static size_t cover_wet(const vug_course *course, bool standing, vugi_move *move)
{
    const vug_course_info *s = &course->summary;
    size_t covered = 0;
    for (size_t i = 0; i < course->history.event_count; i++) {
        const vugi_event *e = course->history.event + i;
        if (e->kind != VUG_EVENT_SPILL || e->opening < 0 || e->opening == s->inlet
            || (standing && e->liquid > s->start_mm3 + VUGI_NOTHING_MM3))
            continue;
        covered += move->open[e->opening];
        move->open[e->opening] = false;
    }
    return covered;
}

/* Once more with some covered: *course is what comes of it, if that is kept. */
static vug_status try_covered(play *p, const vugi_move *move, double least, vug_course **course)
{
    vug_course *covered = NULL;
    vug_status status = vugi_play_fill(p, move, (vugi_feed){(*course)->summary.inlet, 0.0},
        &covered);
    bool keep = !status && covered->summary.liquid_mm3 >= least;
    vug_course_free(keep ? *course : covered);
    *course = keep ? covered : *course;
    return status;
}

/* Openings in which paint shows need not be watched if they are as well covered from the start; those that stand under
 * it must be. */
static vug_status decide_covers(play *p, const vugi_decision *wish, size_t k, vugi_move *move,
    vug_course **course)
{
    const vug_course *first = *course;
    double least = first->summary.liquid_mm3 - COVER_MARGIN * first->summary.capacity_mm3;
    if (cover_wet(*course, false, move) == 0)
        return VUG_OK;
    vug_status status = try_covered(p, move, least, course);
    if (status || *course != first)
        return status;
    open_all(p, wish, k, move);
    return cover_wet(*course, true, move) > 0 ? try_covered(p, move, -INFINITY, course) : VUG_OK;
}

/* ---- how much ------------------------------------------------------------------------------ */

/* Air that is held back stays, though the fill would let it pass: so much less is let in. */
static vug_status hold_back(play *p, double held, const vugi_move *move, vugi_feed *feed,
    vug_course **course)
{
    const vug_course_info *s = &(*course)->summary;
    double most = s->capacity_mm3 - held - s->start_mm3;
    if (s->liquid_mm3 - s->start_mm3 <= most)
        return VUG_OK;
    feed->most = fmax(most, 0.0);
    if (feed->most <= VUGI_NOTHING_MM3) {
        feed->inlet = -1;
        return VUG_OK;
    }
    vug_course_free(*course);
    *course = NULL;
    return vugi_play_fill(p, move, *feed, course);
}

static bool is_worth_it(const vug_course *course, bool last)
{
    const vug_course_info *s = &course->summary;
    double worth = last ? VUGI_NOTHING_MM3
                        : fmax(VUGI_NOTHING_MM3, fmin(WORTH_MM3, WORTH_SHARE * s->capacity_mm3));
    return s->liquid_mm3 - s->start_mm3 > worth;
}

/* ---- step by step ---------------------------------------------------------------------------- */

/* In this pose; *course NULL: nothing is let in. */
static vug_status decide(play *p, const vugi_decision *wish, size_t k, bool last, vugi_move *move,
    vug_course **course)
{
    vugi_feed *feed = move->feed + p->cavity;
    double held = wish->least ? wish->least[k * p->task->cavities->cavity_count + p->cavity] : 0.0;
    vug_status status = fill_best(p, wish, move, course);
    if (!status && *course)
        status = decide_covers(p, wish, k, move, course);
    if (status)
        return status;
    *feed = (vugi_feed){*course ? (*course)->summary.inlet : -1, 0.0};
    if (*course && held > 0.0)
        status = hold_back(p, held, move, feed, course);
    if (status || (feed->inlet >= 0 && is_worth_it(*course, last)))
        return status;
    vug_course_free(*course);
    *course = NULL;
    *feed = (vugi_feed){-1, 0.0};
    cover_all(p, move);
    return VUG_OK;
}

static vug_status decide_step(play *p, const vugi_decision *wish, vugi_move *move, size_t k,
    size_t steps, vugi_outcome *outcome)
{
    assert(k < steps);
    vug_course *course = NULL;
    if (k < wish->given)
        return vugi_replay_step(p, move, k, outcome);
    vug_status status = vugi_play_remember(p);
    open_all(p, wish, k, move + k);
    if (!status)
        status = vugi_play_turn(p, move + k);
    if (!status)
        status = decide(p, wish, k, k + 1 == steps, move + k, &course);
    if (!status && !course && p->now)
        status = vugi_play_fill(p, move + k, move[k].feed[p->cavity], &course);
    if (!status && course)
        status = vugi_play_note(p, move + k, course, outcome);
    else if (!status)
        vugi_play_note_empty(p, outcome);
    vug_course_free(course);
    return status;
}

vug_status vugi_decide_fill(vug_context *ctx, const vugi_replay *task, const vugi_decision *wish,
    vugi_move *move, size_t steps, vugi_outcome *outcome)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; i < task->cavities->cavity_count && !status; i++) {
        play p = {.ctx = ctx, .task = task, .sills = VUGI_SILLS_AIR, .cavity = i};
        for (size_t k = 0; k < steps && !status && vugi_replay_reached(task, i); k++) {
            p.done = vugi_replay_share(task, i, k, steps, 0.3, 0.7);
            status = decide_step(&p, wish, move, k, steps, outcome + k);
        }
        vugi_play_stop(&p);
    }
    return status;
}

vug_status vugi_decide_start(vug_context *ctx, const vugi_replay *task, const vugi_decision *wish,
    int32_t *inlet, double *takes)
{
    play p = {.ctx = ctx, .task = task, .sills = VUGI_SILLS_AIR, .cavity = task->start->cavity};
    vugi_move move;
    vug_course *course = NULL;
    vug_status status = vugi_moves_make(&ctx->mem, task->cavities, &move, 1)
        ? VUG_OK
        : vugi_fail_memory(ctx);
    memcpy(move.up, task->start->up, sizeof move.up);
    if (!status) {
        open_all(&p, wish, 0, &move);
        status = vugi_play_turn(&p, &move);
    }
    if (!status)
        status = fill_best(&p, wish, &move, &course);
    *inlet = course ? course->summary.inlet : -1;
    *takes = course ? course->summary.liquid_mm3 : 0.0;
    vug_course_free(course);
    vugi_play_stop(&p);
    vugi_moves_free(&ctx->mem, &move, 1);
    return status;
}
