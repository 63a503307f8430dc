/* SPDX-License-Identifier: MIT
 * Playing an alternative through. */
#include "plan/verify/verify.h"

#include "plan/barriers.h"
#include "plan/cost.h"
#include "plan/verify/bench.h"
#include "plan/verify/bubbles.h"
#include "plan/verify/chances.h"
#include "plan/verify/decide.h"
#include "plan/verify/replay.h"
#include "plan/verify/sample.h"
#include "plan/verify/steady.h"
#include "plan/verify/steps.h"
#include "plan/verify/wash.h"

#include "cavity/extend.h"
#include "cavity/trust.h"
#include "flow/viscosity.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Paces that differ by less, as a share of the cavity, are alike: then the quicker one is told. */
static const double PACE_MARGIN = 2e-4;

typedef vugi_verification scene;

/* ---- openings --------------------------------------------------------------------- */

static bool is_new(const vugi_opening *opening, const vugi_site *site)
{
    double d2 = 0.0;
    for (int k = 0; k < 3; k++)
        d2 += pow(opening->center[k] - site->bore.point_mm[k], 2.0);
    return opening->planned && d2 < 0.25 * site->bore.diameter_mm * site->bore.diameter_mm;
}

static vug_status drill_holes(scene *s)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    vugi_option *o = s->o;
    vugi_hole *hole = vugi_alloc(mem, o->sites, sizeof *hole);
    if (!hole)
        return vugi_fail_memory(s->p->ctx);
    for (size_t i = 0; i < o->sites; i++)
        hole[i] = vugi_site_hole(o->site + i);
    vug_status status = vugi_cavities_extend(s->p->ctx, s->p->cavities, hole, o->sites, false,
        &o->cavities);
    vugi_free(mem, hole);
    return status;
}

/* Which opening is which, once it is drilled. */
static vug_status drill(scene *s)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    vugi_option *o = s->o;
    size_t own = 0;
    vug_status status = drill_holes(s);
    if (status)
        return status;
    s->now = vugi_alloc(mem, s->p->cavities->opening_count, sizeof *s->now);
    s->closed = o->closed = vugi_calloc(mem, o->cavities->opening_count, sizeof *o->closed);
    if (!s->now || !o->closed)
        return vugi_fail_memory(s->p->ctx);
    for (size_t e = 0; e < o->cavities->opening_count; e++) {
        bool added = false;
        for (size_t i = 0; i < o->sites; i++)
            if (is_new(o->cavities->opening + e, o->site + i)) {
                o->site[i].bore.opening = (uint32_t)e;
                added = true;
            }
        if (!added && own < s->p->cavities->opening_count) {
            o->closed[e] = s->p->closed[own];
            s->now[own++] = e;
        }
    }
    return VUG_OK;
}

/* New holes belong into the model of a part that is not printed yet. One that is shut cannot be washed or cured
 * before it is drilled: it must not be printed so. Else they are drilled after curing. */
static vug_status sort_holes(scene *s)
{
    const vug_cavities *c = s->o->cavities;
    bool model = s->p->options.design != 0;
    bool *later = s->o->later = vugi_calloc(&s->p->ctx->mem, c->opening_count, sizeof *later);
    if (!later)
        return vugi_fail_memory(s->p->ctx);
    for (size_t i = 0; i < c->opening_count; i++)
        later[i] = s->closed[i] || c->opening[i].planned;
    const vugi_replay with = {.cavities = c, .closed = s->closed},
                      without = {.cavities = c, .closed = later};
    for (size_t i = 0; i < c->cavity_count; i++)
        model |= vugi_replay_reached(&with, i) && !vugi_replay_reached(&without, i);
    model &= !s->p->start.given; /* what has been filled is printed */
    if (model)
        memcpy(later, s->closed, c->opening_count * sizeof *later);
    s->o->info.in_model = model;
    return VUG_OK;
}

/* ---- as a whole -------------------------------------------------------------------------- */

/* What the steps ask for. */
static uint32_t cautions_of_steps(const scene *s)
{
    const vugi_option *o = s->o;
    const bool given = s->p->start.given;
    uint32_t bits = 0;
    for (size_t k = given ? 1 : 0; k < s->steps && !vugi_option_unfilled(o); k++) {
        if (o->fill[k].cover_count > 0)
            bits |= 1u << VUG_CAUTION_PRESSURE;
        if (o->fill[k].wait_s < 0.0)
            bits |= 1u << VUG_CAUTION_HELD;
        if (s->fill[k].empty > 0.1 * s->p->options.limit * o->info.capacity_mm3)
            bits |= 1u << VUG_CAUTION_CUT_OFF;
    }
    for (size_t k = 0; k < o->info.drain_steps; k++)
        if (o->drain[k].wait_s < 0.0 || o->drain[k].stuck_mm3 >= VUGI_LEAST_MM3)
            bits |= 1u << VUG_CAUTION_EXCHANGE;
    return bits;
}

static void set_cautions(scene *s)
{
    vugi_option *o = s->o;
    const vug_plan_info *info = &o->info;
    double held = 0.0;
    const bool given = s->p->start.given;
    uint32_t bits = 0;
    if (!vugi_option_unfilled(o))
        bits |= 1u << VUG_CAUTION_GLUE | 1u << VUG_CAUTION_SEALED;
    if (!given)
        bits |= 1u << VUG_CAUTION_RESIN | 1u << VUG_CAUTION_SOLVENT | 1u << VUG_CAUTION_UV;
    bits |= vugi_plan_barrier_cautions(s->p) | cautions_of_steps(s);
    for (size_t i = 0; i < o->sites; i++) {
        const vug_plan_bore_info *b = &o->site[i].bore;
        bits |= info->in_model ? 0u : 1u << VUG_CAUTION_DUST;
        bits |= given ? 1u << VUG_CAUTION_FULL : 0u;
        if (b->edge_mm < 1.5 * b->diameter_mm || b->thinnest_mm < 0.5 * b->depth_mm)
            bits |= 1u << VUG_CAUTION_THIN;
    }
    if (!vug_bubble_held(NULL, &s->p->fluid, &held, NULL) && held > s->p->passage)
        bits |= 1u << VUG_CAUTION_HELD;
    if (!info->within_limit)
        bits |= 1u << VUG_CAUTION_LIMIT;
    double limit = s->p->options.limit * info->capacity_mm3;
    if (info->within_limit && info->tilted_mm3 > limit)
        bits |= 1u << VUG_CAUTION_TILT;
    if (info->within_limit && info->slowly_mm3 > limit)
        bits |= 1u << VUG_CAUTION_BRISK;
    if (fabs(info->trapped_mm3 - info->searched_mm3) > fmax(0.25 * info->trapped_mm3, 0.5 * limit))
        bits |= 1u << VUG_CAUTION_SEARCH;
    o->cautions = bits;
}

/* The smallest usual syringe, mL, with marks of 0.01 or 0.02 mL (common practice, no source). */
static const double LITTLE_ML = 1.0;

static vug_status supplies(scene *s)
{
    const double own = s->p->options.syringe_ml;
    vug_plan_info *info = &s->o->info;
    vug_supply supply = {.struct_size = sizeof supply};
    const bool little = info->inject_mm3 < 1e3 * LITTLE_ML && !vugi_option_unfilled(s->o);
    info->syringe_ml = little ? fmin(LITTLE_ML, own) : own;
    vug_status status = vug_supply_for(s->p->ctx, info->inject_mm3, info->syringe_ml, 0.1, 0.0,
        &supply);
    info->loads = supply.loads;
    info->last_load_ml = supply.last_load_ml;
    info->paint_ml = supply.paint_ml;
    return status;
}

/* No more of it is bare than may be. */
static bool skin_good(const scene *s)
{
    const vug_plan_info *info = &s->o->info;
    return info->bare_mm2 <= s->p->options.bare_limit * info->skin_mm2;
}

/* Openings that are there while the part is turned. */
static size_t covers(const scene *s)
{
    size_t count = 0;
    for (size_t i = 0; i < s->o->cavities->opening_count; i++)
        count += !s->closed[i];
    return count;
}

static vug_status write_info(scene *s)
{
    vugi_planning *p = s->p;
    vug_plan_info *info = &s->o->info;
    double share = vugi_option_air(s->o, s->fill[s->steps - 1].left);
    info->struct_size = sizeof *info;
    vugi_plan_barrier_info(p, info);
    info->searched_all = p->searched_all;
    info->steps = (uint32_t)s->steps;
    info->trapped_mm3 = s->fill[s->steps - 1].left;
    info->drain_steps = (uint32_t)s->washes;
    info->residue_mm3 = s->washes > 0 ? s->drain[s->washes - 1].left : 0.0;
    info->slowly_mm3 = fmax(s->slowly, info->trapped_mm3);
    info->searched_mm3 = s->o->searched * info->capacity_mm3;
    info->any_pace = s->any;
    info->spacing_mm = p->square / p->options.verify_across;
    info->inject_mm3 = 0.0;
    info->given = p->start.given;
    info->unseen = p->start.unseen;
    for (size_t k = (size_t)info->given; k < s->steps; k++)
        info->inject_mm3 += s->fill[k].moved;
    info->within_limit = share <= p->options.limit && skin_good(s);
    info->repeats = s->repeats;
    info->again = (uint32_t)s->again * s->repeats;
    vug_status status = vugi_chances_write(s, &s->o->risk);
    double askew = fmax(info->tilted_mm3, info->slowly_mm3) / info->capacity_mm3;
    info->cost += vugi_cost_of_air(&p->options, vugi_cost_air_share(share, askew) - s->o->searched)
        + vugi_cost_of_covers(&p->options, covers(s), s->steps - 1);
    return status;
}

/* The bubbles on their own: how far they go, and what throats and the fluid hold back. */
static vug_status play(scene *s)
{
    vugi_planning *p = s->p;
    size_t cavities = s->o->cavities->cavity_count;
    double volume = 0.0,
           *by_cavity = vugi_calloc(&p->ctx->mem, s->steps * cavities, sizeof(double));
    vugi_bubbles_task task = {.cavities = s->o->cavities,
        .closed = s->closed,
        .barriers = &p->barriers,
        .held = p->held,
        .up = s->o->up,
        .steps = s->steps,
        .h = p->h,
        .turn_step_deg = s->stop,
        .start = p->start.given ? &p->start : NULL,
        .by_cavity = by_cavity};
    for (size_t i = 0; i < cavities; i++)
        volume += s->o->cavities->cavity[i].volume;
    double seen = volume;
    vug_status status = by_cavity ? vugi_bubbles_run(p->ctx, &task, s->bubbles, &seen)
                                  : vugi_fail_memory(p->ctx);
    s->scale = volume / seen;
    bool held = vugi_holds_back(&p->barriers, p->held, s->o->info.capacity_mm3);
    for (size_t i = 0; i < s->steps * cavities && !status && held; i++)
        by_cavity[i] *= s->scale;
    if (held)
        s->held = by_cavity;
    else
        vugi_free(&p->ctx->mem, by_cavity);
    return status;
}

/* What moves in a step is by how much what is left gets less, to the last digit. What is left is as the simulation has it:
 * columns of two poses differ by some millionths of a cavity, so that it may grow by as much where nothing moves. */
static void balance(vugi_outcome *outcome, size_t steps, double before)
{
    assert(steps > 0);
    for (size_t k = 0; k < steps; k++) {
        outcome[k].moved = before - outcome[k].left;
        outcome[k].stuck = fmax(0.0, fmin(outcome[k].stuck, outcome[k].moved));
        before = outcome[k].left;
    }
}

static vugi_replay task_of(const scene *s, const vug_fluid *fluid)
{
    return (vugi_replay){.cavities = s->o->cavities,
        .closed = s->closed,
        .fluid = fluid,
        .start = s->p->start.given ? &s->p->start : NULL,
        .h = s->p->square / s->p->options.verify_across};
}

static vugi_replay paint_task(const scene *s)
{
    vugi_replay task = task_of(s, &s->p->fluid);
    task.fluid_low = s->p->options.fluid_low;
    task.fluid_high = s->p->options.fluid_high;
    return task;
}

/* What the paint comes to. */
static void note_skin(scene *s, const vugi_replay *task, const vug_skin_info *skin)
{
    vug_plan_info *info = &s->o->info;
    info->skin_mm2 = vugi_replay_skin(task);
    info->backed_mm2 = skin->backed_mm2;
    info->filmed_mm2 = skin->filmed_mm2;
    info->bare_mm2 = fmax(0.0, info->skin_mm2 - skin->area_mm2 + skin->bare_mm2);
    info->film_mm = skin->film_mm;
    info->spot_mm2 = skin->spot_mm2;
    memcpy(info->spot_at_mm, skin->spot_at_mm, sizeof info->spot_at_mm);
}

/* The steps as they are, once more at this pace, and the skin that the paint comes to. */
static vug_status replay_at(scene *s, double stop)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    vugi_replay task = paint_task(s);
    vug_skin_info skin = {.struct_size = sizeof skin};
    s->stop = stop;
    vugi_outcomes_free(mem, s->fill, s->steps);
    if (!vugi_outcomes_make(mem, s->o->cavities, s->fill, s->steps)
        || !vugi_moves_pace(mem, s->move, s->steps, stop))
        return vugi_fail_memory(s->p->ctx);
    vug_status status = vug_skin_make(s->p->ctx, s->o->cavities, NULL, &task.skin);
    if (!status)
        status = vugi_replay_fill(s->p->ctx, &task, s->move, s->steps, s->fill);
    if (!status)
        status = vug_skin_get(s->p->ctx, task.skin, &skin);
    vug_skin_free(task.skin);
    if (!status)
        note_skin(s, &task, &skin);
    return status;
}

/* The worst pace; the quicker of those that are alike. */
static size_t worst_pace(const double *left, double margin)
{
    size_t worst = 0;
    for (size_t i = 1; i < VUGI_PACES; i++)
        if (left[i] > left[worst] + margin)
            worst = i;
    return worst;
}

/* The quickest pace, which is the first, within the limit, or else the one that leaves least. */
static size_t best_pace(const double *left, double limit, double margin)
{
    size_t best = 0;
    for (size_t i = 0; i < VUGI_PACES; i++)
        if (left[i] <= limit)
            return i;
    for (size_t i = 1; i < VUGI_PACES; i++)
        if (left[i] < left[best] - margin)
            best = i;
    return best;
}

/* As told at one of the paces that were compared on coarse columns; and the most at any of them. *at: the pace at which it
 * has been replayed. */
static vug_status tell_at(scene *s, const double *left, size_t pace, double *at)
{
    const bool fixed = s->held || s->p->turn_step_deg <= 0.0;
    const double stop = fixed ? s->stop : vugi_pace_deg[pace];
    vug_status status = stop == *at ? VUG_OK : replay_at(s, stop);
    *at = stop;
    s->slowly = s->fill[s->steps - 1].left + fmax(0.0, left[worst_pace(left, 0.0)] - left[pace]);
    return status;
}

/* At which pace the turns are told. Where any does, at the worst of them. Slow bubbles stay where they are on the way,
 * and what throats hold back is known at the pace of the search alone. */
static vug_status tell(scene *s)
{
    double limit = s->p->options.limit * s->o->info.capacity_mm3, left[VUGI_PACES] = {0.0};
    double margin = PACE_MARGIN * s->o->info.capacity_mm3, at = -1.0;
    vug_status status = VUG_OK;
    if (s->steps > 1)
        status = vugi_sample_paces(s, vugi_pace_deg, VUGI_PACES, s->p->h, left);
    s->any = false;
    if (!status && left[worst_pace(left, 0.0)] <= limit) {
        status = tell_at(s, left, worst_pace(left, margin), &at);
        s->any = s->slowly <= limit;
        if (status || s->any || s->steps == 1)
            return status;
    }
    return status ? status : tell_at(s, left, best_pace(left, limit, margin), &at);
}

/* The first step in which each new opening is there: one is drilled in a part that is filled already only when it lets
 * air out, or paint in. false: all of them in the first that is to do. */
static bool find_drilled(const scene *s, uint32_t *from)
{
    bool later = false;
    for (size_t i = 0; i < s->o->sites; i++) {
        size_t opening = s->o->site[i].bore.opening, k = 1;
        size_t cavity = (size_t)s->o->cavities->opening[opening].cavity;
        while (k < s->steps && !vugi_bitset_has(&s->fill[k].through, opening)
            && s->move[k].feed[cavity].inlet != (int32_t)opening)
            k++;
        from[opening] = k < s->steps ? (uint32_t)k : 1;
        later |= from[opening] > 1;
    }
    return later;
}

static vug_status fill(scene *s)
{
    vugi_planning *p = s->p;
    const vugi_allocator *mem = &p->ctx->mem;
    vugi_replay task = paint_task(s);
    uint32_t *from = vugi_calloc(mem, s->o->cavities->opening_count, sizeof *from);
    const vugi_decision wish = {.inlet = vugi_steps_inlet(s),
        .least = s->held,
        .given = p->start.given,
        .from = from};
    if (!from)
        return vugi_fail_memory(p->ctx);
    for (size_t i = 0; i < s->o->sites && p->start.given; i++)
        from[s->o->site[i].bore.opening] = 1;
    vug_status status = vugi_decide_fill(p->ctx, &task, &wish, s->move, s->steps, s->fill);
    if (!status && p->start.given && find_drilled(s, from)) {
        vugi_outcomes_free(mem, s->fill, s->steps);
        status = vugi_outcomes_make(mem, s->o->cavities, s->fill, s->steps)
            ? vugi_decide_fill(p->ctx, &task, &wish, s->move, s->steps, s->fill)
            : vugi_fail_memory(p->ctx);
    }
    vugi_free(mem, from);
    return status;
}

/* A turn at the end after which nothing goes in lets no air out. It may wet skin, where that is asked for. */
static void drop_idle(scene *s)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    const size_t least = s->p->start.given ? 1 : 0, cavities = s->o->cavities->cavity_count;
    while (s->steps > least + 1 && s->p->options.bare_limit >= 1.0) {
        const vugi_move *last = s->move + s->steps - 1;
        bool fed = false;
        for (size_t i = 0; i < cavities; i++)
            fed |= last->feed[i].inlet >= 0;
        if (fed)
            return;
        s->steps--;
        vugi_moves_free(mem, s->move + s->steps, 1);
        vugi_outcomes_free(mem, s->fill + s->steps, 1);
    }
}

/* The step that has been done. */
static void set_given(scene *s)
{
    const vugi_start *start = &s->p->start;
    if (!start->given || start->inlet < 0)
        return;
    for (size_t i = 0; i < s->p->cavities->opening_count; i++)
        s->move[0].open[s->now[i]] = !s->p->closed[i];
    s->move[0].feed[start->cavity] = (vugi_feed){(int32_t)s->now[start->inlet], start->liquid};
}

static vug_status simulate(scene *s)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    const vug_cavities *c = s->o->cavities;
    vug_status status = VUG_OK;
    bool good = vugi_moves_make(mem, c, s->move, s->steps)
        && vugi_moves_make(mem, c, s->down, VUGI_WASHES)
        && vugi_outcomes_make(mem, c, s->fill, s->steps)
        && vugi_outcomes_make(mem, c, s->drain, VUGI_WASHES);
    for (size_t k = 0; k < s->steps && good; k++)
        memcpy(s->move[k].up, s->o->up + 3 * k, sizeof s->move->up);
    for (size_t k = 0; k < VUGI_WASHES && good; k++)
        for (size_t i = 0; i < c->opening_count; i++)
            s->down[k].open[i] = !s->o->later[i];
    if (!good || !vugi_moves_pace(mem, s->move, s->steps, s->stop))
        status = vugi_fail_memory(s->p->ctx);
    if (!status)
        set_given(s);
    if (!status)
        status = fill(s);
    if (!status)
        drop_idle(s);
    return status;
}

static bool same_holes(const vugi_option *a, const vugi_option *b)
{
    bool same = a->sites == b->sites;
    for (size_t i = 0; i < a->sites && same; i++) {
        const vug_plan_bore_info *x = &a->site[i].bore, *y = &b->site[i].bore;
        same = memcmp(x->point_mm, y->point_mm, sizeof x->point_mm) == 0
            && memcmp(x->direction, y->direction, sizeof x->direction) == 0
            && x->diameter_mm == y->diameter_mm;
    }
    return same;
}

/* One that is proved already and has the same holes. */
static const scene *find_like(const scene *s)
{
    const vug_plan *plan = s->p->plan;
    for (size_t i = 0; i < plan->count; i++) {
        const vugi_option *o = plan->option[i];
        if (o->proof && o->proof != s && o->proof->washes > 0 && same_holes(o, s->o))
            return o->proof;
    }
    return NULL;
}

static void drain_like(scene *s, const scene *like)
{
    s->washes = like->washes;
    for (size_t k = 0; k < s->washes; k++) {
        memcpy(s->down[k].up, like->down[k].up, sizeof s->down->up);
        vugi_outcome_copy(s->o->cavities, like->drain + k, s->drain + k);
    }
}

static vug_status drain(scene *s)
{
    vugi_replay task = task_of(s, &s->p->solvent);
    task.closed = s->o->later;
    balance(s->fill, s->steps, s->o->info.capacity_mm3);
    if (s->p->start.given)
        return VUG_OK;
    s->like = find_like(s);
    if (s->like) {
        drain_like(s, s->like);
        return VUG_OK;
    }
    vug_status status = vugi_wash_choose(s);
    if (!status)
        status = vugi_replay_drain(s->p->ctx, &task, s->down, s->washes, s->drain);
    if (status)
        return status;
    balance(s->drain, s->washes, s->o->info.capacity_mm3);
    for (size_t k = 1; k < s->washes; k++) /* where the coarse columns saw more */
        if (s->drain[k].moved < VUGI_LEAST_MM3)
            s->washes = k;
    return VUG_OK;
}

static void measure_room(scene *s)
{
    vugi_replay task = task_of(s, NULL);
    vug_plan_info *info = &s->o->info;
    info->capacity_mm3 = vugi_replay_room(&task);
    info->sealed_mm3 = s->o->missed = 0.0;
    for (size_t i = 0; i < s->o->cavities->cavity_count; i++)
        if (!vugi_replay_reached(&task, i)) {
            info->sealed_mm3 += s->o->cavities->cavity[i].volume;
            s->o->missed += s->p->reached[i] ? s->o->cavities->cavity[i].volume : 0.0;
        }
    info->trusted = vugi_cavities_trusted(s->o->cavities);
}

void vugi_plan_proof_free(const vugi_allocator *mem, scene *s)
{
    if (!s)
        return;
    assert(!s->kept);
    vugi_moves_free(mem, s->move, s->steps);
    vugi_moves_free(mem, s->down, VUGI_WASHES);
    vugi_outcomes_free(mem, s->fill, s->steps);
    vugi_outcomes_free(mem, s->drain, VUGI_WASHES);
    vugi_free(mem, s->now);
    vugi_free(mem, s->held);
    for (int i = 0; i < 2; i++)
        vug_cavities_free(s->off[i]);
    vugi_free(mem, s);
}

vug_status vugi_plan_verify(vugi_planning *p, vugi_option *o)
{
    if (o->proof)
        return VUG_OK;
    scene *s = vugi_calloc(&p->plan->mem, 1, sizeof *s);
    if (!s)
        return vugi_fail_memory(p->ctx);
    o->proof = s;
    s->p = p;
    s->o = o;
    s->steps = o->tilt.turns + 1;
    s->stop = p->turn_step_deg;
    vug_status status = drill(s);
    if (status || (status = sort_holes(s)))
        return status;
    measure_room(s);
    if ((status = play(s)) || (status = simulate(s)))
        return status;
    o->info.bores = (uint32_t)o->sites;
    o->info.steps = (uint32_t)s->steps;
    o->info.trapped_mm3 = s->fill[s->steps - 1].left;
    o->info.within_limit = vugi_option_air(o, o->info.trapped_mm3) <= p->options.limit;
    if (o->info.within_limit && p->options.bare_limit < 1.0) {
        status = replay_at(s, s->stop);
        o->info.within_limit = skin_good(s);
    }
    return status;
}

vug_status vugi_plan_prove(vugi_planning *p, vugi_option *o)
{
    scene *s = o->proof;
    vug_status status;
    assert(s);
    s->any = o->info.within_limit;
    if ((status = vugi_plan_steady(s)) || (status = tell(s)) || (status = drain(s))
        || (status = write_info(s)) || (status = vugi_steps_fill(s))
        || (!p->start.given && (status = vugi_steps_drain(s))) || (status = supplies(s))
        || (status = vugi_bench_sums(s)))
        return status;
    set_cautions(s);
    return VUG_OK;
}

/* Columns for the rate: a dozen fills in time on them take a tenth of a second. */
static const double RATE_ACROSS = 60.0;

/* A plain liquid as thick as this one is at a shear of 10 / s, about that of paint in a passage (common
 * practice, no source). With index and yield stress the search for the rate takes many times as long. */
static vug_fluid plain_fluid(const vug_fluid *fluid)
{
    const double shear = 10.0;
    vug_fluid plain = *fluid;
    vugi_fluid_set_newtonian(&plain, vugi_fluid_viscosity(fluid, shear));
    return plain;
}

vug_status vugi_plan_rate(vugi_planning *p, vugi_option *o)
{
    const vug_fluid plain = plain_fluid(&p->fluid);
    const vugi_allocator *mem = &p->ctx->mem;
    vug_step_info *first = o->fill;
    vugi_replay task = {.cavities = o->cavities,
        .closed = o->closed,
        .fluid = &plain,
        .h = p->square / RATE_ACROSS};
    vugi_move move = {.open = NULL};
    vugi_bitset shown = {.word = NULL};
    if (first->inlet < 0 || p->start.given)
        return VUG_OK;
    bool good = vugi_moves_make(mem, o->cavities, &move, 1)
        && vugi_bitset_make(mem, o->cavities->opening_count, &shown);
    memcpy(move.up, first->up, sizeof move.up);
    for (size_t i = 0; i < first->open_count && good; i++)
        move.open[first->open[i]] = true;
    for (size_t i = 0; i < first->show_count && good; i++)
        vugi_bitset_add(&shown, first->show[i]);
    vug_status status = good
        ? vugi_replay_rate(p->ctx, &task, &move, first->inlet, &shown, &first->rate_mm3_s)
        : vugi_fail_memory(p->ctx);
    vugi_moves_free(mem, &move, 1);
    vugi_bitset_free(mem, &shown);
    return status == VUG_ERR_CONVERGENCE ? VUG_OK : status;
}
