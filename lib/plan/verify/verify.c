/* SPDX-License-Identifier: MIT
 * Playing an alternative through. */
#include "plan/verify/verify.h"

#include "plan/barriers.h"
#include "plan/cost.h"
#include "plan/verify/bubbles.h"
#include "plan/verify/replay.h"
#include "plan/verify/steps.h"

#include "cavity/extend.h"
#include "column/pose.h"
#include "flow/viscosity.h"
#include "pose/rotation.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static const double SLOW_STEP_DEG = 30.0;

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
    vug_status status = vugi_cavities_extend(s->p->ctx, s->p->cavities, hole, o->sites,
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

/* ---- what if it is held a little askew ----------------------------------------------- */

static vug_status tilted(scene *s, double *worst)
{
    vugi_planning *p = s->p;
    double up[3 * (VUG_MAX_TURNS + 1)], capacity;
    vugi_bubbles_step step[VUG_MAX_TURNS + 1];
    *worst = 0.0;
    if (!(p->options.tilt_deg > 0.0))
        return VUG_OK;
    for (int way = 0; way < 4; way++) {
        for (size_t k = 0; k < s->steps; k++) {
            double basis[9];
            vugi_basis(s->o->up + 3 * k, basis);
            vugi_rotation_up(s->o->up + 3 * k, basis + 3 * (way / 2),
                way % 2 ? -p->options.tilt_deg : p->options.tilt_deg, up + 3 * k);
        }
        vugi_bubbles_task task = {s->o->cavities, s->closed, &p->barriers, p->held, up, s->steps,
            p->h, p->turn_step_deg};
        vug_status status = vugi_bubbles_run(p->ctx, &task, step, &capacity);
        if (status)
            return status;
        *worst = fmax(*worst, step[s->steps - 1].trapped / capacity);
    }
    return VUG_OK;
}

/* ---- as a whole -------------------------------------------------------------------------- */

static void set_cautions(scene *s)
{
    vugi_option *o = s->o;
    const vug_plan_info *info = &o->info;
    double held = 0.0;
    uint32_t bits = 1u << VUG_CAUTION_RESIN | 1u << VUG_CAUTION_SOLVENT | 1u << VUG_CAUTION_UV
        | 1u << VUG_CAUTION_GLUE | 1u << VUG_CAUTION_SEALED;
    bits |= vugi_plan_barrier_cautions(s->p);
    for (size_t i = 0; i < o->sites; i++) {
        const vug_plan_bore_info *b = &o->site[i].bore;
        bits |= 1u << VUG_CAUTION_DUST;
        if (b->edge_mm < 1.5 * b->diameter_mm || b->thinnest_mm < 0.5 * b->depth_mm)
            bits |= 1u << VUG_CAUTION_THIN;
    }
    for (size_t k = 0; k < s->steps; k++) {
        if (o->fill[k].cover_count > 0)
            bits |= 1u << VUG_CAUTION_PRESSURE;
        if (o->fill[k].wait_s < 0.0)
            bits |= 1u << VUG_CAUTION_HELD;
        if (s->fill[k].cut_off > 0.1 * s->p->options.limit * info->capacity_mm3)
            bits |= 1u << VUG_CAUTION_CUT_OFF;
        if (o->drain[k].wait_s < 0.0)
            bits |= 1u << VUG_CAUTION_EXCHANGE;
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

static vug_status supplies(scene *s)
{
    vug_plan_info *info = &s->o->info;
    vug_supply supply = {.struct_size = sizeof supply};
    vug_status status = vug_supply_for(s->p->ctx, info->inject_mm3, s->p->options.syringe_ml, 0.1,
        0.0, &supply);
    info->loads = supply.loads;
    info->last_load_ml = supply.last_load_ml;
    info->paint_ml = supply.paint_ml;
    return status;
}

static vug_status write_info(scene *s)
{
    vugi_planning *p = s->p;
    vug_plan_info *info = &s->o->info;
    double worst, share = s->fill[s->steps - 1].left / info->capacity_mm3;
    vug_status status = tilted(s, &worst);
    info->struct_size = sizeof *info;
    info->bores = (uint32_t)s->o->sites;
    vugi_plan_barrier_info(p, info);
    info->searched_all = p->searched_all;
    info->steps = (uint32_t)s->steps;
    info->trapped_mm3 = s->fill[s->steps - 1].left;
    info->residue_mm3 = s->drain[s->steps - 1].left;
    info->tilted_mm3 = fmax(worst, share) * info->capacity_mm3;
    info->slowly_mm3 = fmax(s->slowly, share) * info->capacity_mm3;
    info->searched_mm3 = s->o->searched * info->capacity_mm3;
    info->inject_mm3 = 0.0;
    for (size_t k = 0; k < s->steps; k++)
        info->inject_mm3 += s->fill[k].moved;
    info->within_limit = share <= p->options.limit;
    info->cost += vugi_cost_of_air(&p->options, vugi_cost_air_share(share, worst) - s->o->searched);
    return status;
}

/* The bubbles on their own, as their speed has it, and once more with slow turns: how far they go,
 * and what throats and the fluid hold back. */
static vug_status play(scene *s)
{
    vugi_planning *p = s->p;
    vugi_bubbles_step slow[VUG_MAX_TURNS + 1];
    vugi_bubbles_task task = {.cavities = s->o->cavities,
        .closed = s->closed,
        .barriers = &p->barriers,
        .held = p->held,
        .up = s->o->up,
        .steps = s->steps,
        .h = p->h,
        .turn_step_deg = p->turn_step_deg};
    double volume;
    vug_status status = vugi_bubbles_run(p->ctx, &task, s->bubbles, &volume);
    if (status)
        return status;
    s->scale = s->o->info.capacity_mm3 / volume;
    s->slowly = s->bubbles[s->steps - 1].trapped / volume;
    if (task.turn_step_deg > 0.0 || s->steps == 1)
        return VUG_OK;
    task.turn_step_deg = SLOW_STEP_DEG;
    status = vugi_bubbles_run(p->ctx, &task, slow, &volume);
    s->slowly = slow[s->steps - 1].trapped / volume;
    return status;
}

/* The fill lets bubbles pass wherever they fit: what is held back stays. */
static void hold_back(scene *s)
{
    if (s->p->barriers.count == 0 && !(s->p->held > 1e-4 * s->o->info.capacity_mm3))
        return;
    for (size_t k = 0; k < s->steps; k++)
        s->fill[k].left = fmax(s->fill[k].left, s->bubbles[k].trapped * s->scale);
}

/* What moves in a step is by how much what is left gets less, to the last digit. */
static void balance(vugi_replay_step *step, size_t steps, double before)
{
    assert(steps > 0);
    for (size_t k = 0; k < steps; k++) {
        step[k].left = fmin(step[k].left, before);
        step[k].moved = before - step[k].left;
        before = step[k].left;
        assert(step[k].moved >= 0.0);
    }
}

static vug_status simulate(scene *s)
{
    vugi_planning *p = s->p;
    vugi_replay task = {.cavities = s->o->cavities,
        .closed = s->closed,
        .inlet = vugi_steps_inlet(s),
        .fluid = &p->fluid,
        .fluid_low = p->options.fluid_low,
        .fluid_high = p->options.fluid_high,
        .up = s->o->up,
        .steps = s->steps,
        .h = p->size / p->options.verify_across,
        .turn_step_deg = p->turn_step_deg};
    vug_status status = vugi_replay_fill(p->ctx, &task, s->fill);
    task.fluid = &p->solvent;
    task.fluid_low = task.fluid_high = NULL;
    task.turn_step_deg = 0.0;
    if (!status)
        status = vugi_replay_drain(p->ctx, &task, s->drain);
    if (!status)
        hold_back(s);
    balance(s->fill, s->steps, s->o->info.capacity_mm3);
    balance(s->drain, s->steps, vugi_replay_room(&task));
    return status;
}

vug_status vugi_plan_verify(vugi_planning *p, vugi_option *o)
{
    scene s = {.p = p, .o = o, .steps = o->tilt.turns + 1};
    vug_status status = drill(&s);
    o->info.capacity_mm3 = 0.0;
    for (size_t i = 0; i < o->cavities->cavity_count && !status; i++)
        o->info.capacity_mm3 += o->cavities->cavity[i].volume;
    if (!status && !(status = play(&s)) && !(status = simulate(&s)) && !(status = write_info(&s))
        && !(status = vugi_steps_fill(&s)) && !(status = vugi_steps_drain(&s)))
        status = supplies(&s);
    if (!status)
        set_cautions(&s);
    for (size_t k = 0; k < s.steps; k++)
        vugi_replay_step_free(&p->ctx->mem, s.fill + k);
    vugi_free(&p->ctx->mem, s.now);
    o->verified = !status;
    return status;
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
    vugi_replay task = {.cavities = o->cavities,
        .closed = o->closed,
        .inlet = o->fill[0].inlet,
        .fluid = &plain,
        .up = o->up,
        .steps = 1,
        .h = p->size / RATE_ACROSS};
    vug_status status = o->fill[0].inlet < 0 ? VUG_OK
                                             : vugi_replay_rate(p->ctx, &task, o->fill[0].cover,
                                                 o->fill[0].cover_count, &o->fill[0].rate_mm3_s);
    return status == VUG_ERR_CONVERGENCE ? VUG_OK : status;
}
