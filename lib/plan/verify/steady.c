/* SPDX-License-Identifier: MIT
 * Steps for hands that are not exact. A sequence that was found by exact poses stands on a knife's edge: air has to find
 * its way within a few degrees. Leaning lets it creep along ceilings that hardly rise, and what missed its way once finds
 * it when the last turns are done again, held a little otherwise; or, where nothing is turned, when the part is held so
 * anew and topped up. */
#include "plan/verify/steady.h"

#include "base/vec.h"
#include "flow/flow.h"
#include "flow/section.h"
#include "plan/cost.h"
#include "plan/verify/chances.h"
#include "plan/verify/sample.h"

#include <assert.h>
#include <math.h>
#include <string.h>

typedef vugi_verification scene;

/* By how much a part is leant to each side; common practice, no source. */
static const double LEAN_DEG = 15.0;

/* What a maker may count on is 19 times out of 20: so many samples may fail. */
enum { MAY_FAIL = VUG_PLAN_SAMPLES / 20 };

/* So many samples at a time: where enough of them fail, the others are not played. */
enum { GLANCE = 10 };
static_assert(VUG_PLAN_SAMPLES / 2 % GLANCE == 0, "whole glances, in each half");

/* The steps that are done again: a turn and the one before; in a plan of one pose that one. */
enum { PAIR = 2 };

/* ---- the steps ------------------------------------------------------------------------- */

static void set_lean(scene *s, double degrees)
{
    s->move[s->steps - 1].lean_deg = degrees;
}

/* What paint had shown in stands under it. So little of it, five drops, may run out, mm3, until a finger is on it again after so
 * long, s (common practice, no source). */
static const double MAY_RUN_MM3 = 250.0, MOMENT_S = 1.0;

static bool runs_little(const scene *s, size_t opening, int32_t inlet)
{
    const double metre = 1e-3;
    const vugi_opening *all = s->o->cavities->opening, *o = all + opening;
    const vugi_tubes tubes = vugi_section_tubes(o->radius, o->inscribed_radius);
    double pressure, flow = 0.0;
    if (inlet < 0)
        return false;
    pressure = s->p->fluid.density_kg_m3 * VUGI_G * metre
        * (vugi_dot(all[inlet].center, s->move[0].up) - vugi_dot(o->center, s->move[0].up));
    return pressure <= 0.0
        || (!vug_hole_flow(NULL, &s->p->fluid, tubes.diameter, o->bore_length, &pressure, 1, &flow)
            && tubes.count * flow * MOMENT_S <= MAY_RUN_MM3);
}

/* The first fill's pose once more, to top up: what more would run out of than a drop stays covered. */
static void copy_first(scene *s, vugi_move *own)
{
    const vug_cavities *c = s->o->cavities;
    for (size_t i = 0; i < c->opening_count; i++) {
        const vugi_feed feed = s->move[0].feed[c->opening[i].cavity];
        own->open[i] = s->move[0].open[i]
            && (feed.inlet == (int32_t)i || !vugi_bitset_has(&s->fill[0].shown, i)
                || runs_little(s, i, feed.inlet));
    }
    memcpy(own->feed, s->move[0].feed, c->cavity_count * sizeof(vugi_feed));
}

/* Before a turn is done again a first fill is not: the part is held so, and its openings stay covered. */
static void copy_move(scene *s, size_t from, size_t to)
{
    const vug_cavities *c = s->o->cavities;
    vugi_move *own = s->move + to;
    const vugi_move *like = s->move + from;
    memcpy(own->up, like->up, sizeof own->up);
    memcpy(s->o->up + 3 * to, s->o->up + 3 * from, 3 * sizeof(double));
    s->o->tilt.pose[to] = s->o->tilt.pose[from];
    s->bubbles[to] = s->bubbles[from > 0 ? from : to - 1]; /* the way back is as long */
    own->lean_deg = like->lean_deg;
    if (from == 0) {
        if (s->again < PAIR)
            copy_first(s, own);
        return;
    }
    memcpy(own->open, like->open, c->opening_count * sizeof(bool));
    memcpy(own->feed, like->feed, c->cavity_count * sizeof(vugi_feed));
}

static vug_status do_again(scene *s)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    const size_t first = s->steps, again = s->again;
    assert(first >= again && first + again <= VUG_MAX_TURNS + 1);
    s->steps += again;
    s->repeats++;
    if (!vugi_moves_make(mem, s->o->cavities, s->move + first, again)
        || !vugi_outcomes_make(mem, s->o->cavities, s->fill + first, again))
        return vugi_fail_memory(s->p->ctx);
    for (size_t i = 0; i < again; i++)
        copy_move(s, again < PAIR ? 0 : first + i - again, first + i);
    return VUG_OK;
}

static void undo(scene *s)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    s->steps -= s->again;
    s->repeats--;
    vugi_moves_free(mem, s->move + s->steps, s->again);
    vugi_outcomes_free(mem, s->fill + s->steps, s->again);
}

/* What the leans and the turns take that the search did not count, in turns. */
static double extra_effort(const scene *s)
{
    const uint32_t *pose = s->o->tilt.pose;
    double effort = s->again < PAIR ? vugi_cost_hold() * s->repeats : 0.0;
    for (size_t k = 1; k < s->steps; k++) {
        effort += s->move[k].lean_deg > 0.0 ? vugi_cost_lean() : 0.0;
        if (k >= s->steps - s->again * s->repeats)
            effort += vugi_turn_effort(&s->p->pose_set, pose[k - 1], pose[k]);
    }
    return vugi_cost_of_turns(&s->p->options, effort);
}

/* ---- how far to go ---------------------------------------------------------------------- */

static size_t failures(const scene *s, size_t count)
{
    const double limit = s->p->options.limit * s->o->info.capacity_mm3;
    size_t over = 0;
    for (size_t i = 0; i < count; i++)
        over += s->seen[i] > limit;
    return over;
}

/* What it costs to do it so, with what it costs to miss the limit, by the samples that were played. */
static double price(const scene *s, size_t count)
{
    return extra_effort(s)
        + vugi_cost_of_samples(&s->p->options, s->seen, count, s->o->info.capacity_mm3);
}

/* Leans change the last step; what is added then leaves those before as they are. */
static size_t steps_that_stay(const scene *s)
{
    return s->again < PAIR || s->move[s->steps - 1].lean_deg > 0.0 ? s->steps : s->steps - 1;
}

/* *count: samples played, until they say enough or so many fail that it is decided. */
static vug_status look(scene *s, size_t *count)
{
    const double enough = vugi_cost_free_share(&s->p->options);
    size_t number[GLANCE];
    vug_status status = VUG_OK;
    for (*count = 0;
         !vugi_chances_known(s, *count, 0.0) && failures(s, *count) <= MAY_FAIL && !status;
         *count += GLANCE) {
        for (size_t i = 0; i < GLANCE; i++)
            number[i] = *count + i;
        status = vugi_sample_hands(s, number, GLANCE, steps_that_stay(s), enough);
    }
    return status;
}

/* As many steps again as max_repeats pairs have: to hold it anew is half as much. */
static bool may_repeat(const scene *s)
{
    return s->again * (s->repeats + 1) <= (size_t)PAIR * s->p->options.max_repeats
        && s->steps + s->again <= VUG_MAX_TURNS + 1;
}

/* One thing more: the leans first, then the last turns again; where it seldom comes out, both at once. Without a turn it
 * is held anew. false: nothing more is allowed. */
static bool go_on(scene *s, bool seldom, vug_status *status)
{
    if (s->again == PAIR && !(s->move[s->steps - 1].lean_deg > 0.0)) {
        set_lean(s, LEAN_DEG);
        if (!seldom)
            return true;
    }
    if (!may_repeat(s))
        return false;
    *status = do_again(s);
    return *status == VUG_OK;
}

/* How it was when it was cheapest. */
typedef struct best {
    double price, lean_deg;
    uint32_t repeats;
    size_t count; /* of samples played */
    double seen[VUG_PLAN_SAMPLES];
    bool whole[VUG_PLAN_SAMPLES];
} best;

static void remember(const scene *s, size_t count, best *b)
{
    double own = price(s, count);
    if (own >= b->price)
        return;
    *b = (best){own, s->move[s->steps - 1].lean_deg, s->repeats, count, {0.0}, {false}};
    memcpy(b->seen, s->seen, count * sizeof *b->seen);
    memcpy(b->whole, s->whole, count * sizeof *b->whole);
}

static void go_back(scene *s, const best *b)
{
    while (s->repeats > b->repeats)
        undo(s);
    set_lean(s, b->lean_deg);
    s->sampled = b->count;
    memcpy(s->seen, b->seen, b->count * sizeof *b->seen);
    memcpy(s->whole, b->whole, b->count * sizeof *b->whole);
}

/* Less is let in than would go in: throats or the paint keep that air where it is, however often a step is done again. */
static bool held_back(const scene *s)
{
    for (size_t k = s->p->start.given ? 1 : 0; k < s->steps; k++)
        for (size_t i = 0; i < s->o->cavities->cavity_count; i++)
            if (s->move[k].feed[i].most > 0.0)
                return true;
    return false;
}

vug_status vugi_plan_steady(scene *s)
{
    const vug_plan_options *o = &s->p->options;
    best b = {.price = INFINITY};
    bool more = o->tilt_deg > 0.0 && o->max_repeats > 0 && !held_back(s)
        && s->steps > (s->p->start.given ? 1u : 0u) && s->o->info.within_limit;
    s->again = s->steps < PAIR ? 1 : PAIR;
    vug_status status = more ? vugi_sample_keep(s) : VUG_OK;
    while (more && !status) {
        size_t count;
        if ((status = look(s, &count)))
            break;
        remember(s, count, &b);
        if (failures(s, count) <= MAY_FAIL) {
            s->sampled = count;
            status = vugi_chances_finish(s, count, steps_that_stay(s), 0.0);
            break;
        }
        more = go_on(s, 2 * failures(s, GLANCE) > GLANCE, &status);
        if (!more && !status)
            go_back(s, &b);
    }
    vugi_sample_forget(s);
    s->o->info.cost += s->sampled > 0 ? extra_effort(s) : 0.0;
    return status;
}
