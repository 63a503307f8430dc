/* SPDX-License-Identifier: MIT
 * Playing an alternative through, and what the maker has to do at each step of it. */
#include "plan/plan.h"

#include "plan/proof.h"
#include "plan/stand.h"

#include <math.h>
#include <string.h>

/* Waits are half as long again as the straight way takes, and no shorter than this (common practice,
 * no source). */
static const double SLACK = 1.5, SHORTEST_S = 5.0;

static const double SLOW_STEP_DEG = 30.0;

typedef struct scene {
    vugi_planning *p;
    vugi_option *o;
    bool closed[VUG_MAX_OPENINGS];
    size_t now[VUG_MAX_OPENINGS]; /* number that each of the part's own openings has now */
    size_t steps;
    double scale;              /* from the columns' volume to the cavities' */
    double slowly;             /* share that stays when turned slowly */
    vugi_proof_step proof[VUG_MAX_TURNS + 1];
} scene;

/* ---- openings --------------------------------------------------------------------- */

static bool is_new(const vugi_opening *opening, const vugi_site *site)
{
    double d2 = 0.0;
    for (int k = 0; k < 3; k++)
        d2 += pow(opening->center[k] - site->bore.point_mm[k], 2.0);
    return opening->planned && d2 < 0.25 * site->bore.diameter_mm * site->bore.diameter_mm;
}

static vug_status drill(scene *s)
{
    vugi_option *o = s->o;
    vugi_hole hole[VUG_MAX_BORES];
    size_t own = 0;
    for (size_t i = 0; i < o->sites; i++)
        hole[i] = vugi_site_hole(o->site + i);
    vug_status status = vugi_cavities_extend(s->p->ctx, s->p->cavities, hole, o->sites,
        &o->cavities);
    if (status)
        return status;
    for (size_t e = 0; e < o->cavities->opening_count; e++) {
        bool added = false;
        for (size_t i = 0; i < o->sites; i++)
            if (is_new(o->cavities->opening + e, o->site + i)) {
                o->site[i].bore.opening = (uint32_t)e;
                added = true;
            }
        if (!added && own < s->p->cavities->opening_count) {
            s->closed[e] = s->p->closed[own];
            s->now[own++] = e;
        }
    }
    return VUG_OK;
}

static double lip_of(const scene *s, size_t opening, const double up[3])
{
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

static int32_t inlet_for(const scene *s, const double up[3])
{
    for (size_t i = 0; i < s->p->cavities->opening_count; i++)
        if (s->p->role[i] == VUG_ROLE_INLET)
            return (int32_t)s->now[i];
    size_t best = highest(s, up);
    return best == SIZE_MAX ? -1 : (int32_t)best;
}

/* ---- times -------------------------------------------------------------------------- */

/* Seconds for a bubble of this volume over this way; -1: it does not move. In passages not much
 * wider than itself it rises as in a tube. */
static double rise_time(const scene *s, double way, double volume)
{
    double radius = cbrt(volume * 0.75 / acos(-1.0)), speed = 0.0;
    if (way <= 0.0 || volume <= 0.0)
        return 0.0;
    if (2.0 * radius > 0.6 * s->p->passage) {
        if (vug_bubble_tube_speed(NULL, &s->p->fluid, s->p->passage, &speed))
            return -1.0;
    } else if (vug_bubble_open_speed(NULL, &s->p->fluid, radius, 0, &speed)) {
        return -1.0;
    }
    return speed > 0.0 ? fmax(SHORTEST_S, SLACK * way / speed) : -1.0;
}

/* Seconds for a volume of the rinsing liquid to run out by an opening, as from a vessel with the
 * cavity's mean section; -1: it does not run out by itself. */
static double drain_time(const scene *s, const double up[3], size_t opening, double volume)
{
    const vugi_opening *o = s->o->cavities->opening + opening;
    double lo = INFINITY, hi = -INFINITY, time = 0.0;
    const vug_mesh *mesh = s->o->cavities->cavity[o->cavity].mesh;
    for (size_t v = 0; v < mesh->vertex_count; v++) {
        const double *p = mesh->xyz + 3 * v;
        double z = p[0] * up[0] + p[1] * up[1] + p[2] * up[2];
        lo = fmin(lo, z);
        hi = fmax(hi, z);
    }
    double height = fmax(hi - lo, 1.0), area = fmax(volume / height, 1e-3);
    if (vug_drain_time(NULL, &s->p->solvent, 2.0 * o->inscribed_radius, o->bore_length, area,
            height, 0.1 * height, &time))
        return -1.0;
    return fmax(SHORTEST_S, SLACK * time);
}

/* ---- steps ---------------------------------------------------------------------------- */

static void fill_openings(const scene *s, size_t k, vug_plan_step *step)
{
    const vugi_proof_step *proof = s->proof + k;
    size_t count = s->o->cavities->opening_count, top = highest(s, step->up);
    double surface = top == SIZE_MAX ? INFINITY : lip_of(s, top, step->up) - 0.05;
    for (size_t i = 0; i < count; i++) {
        if (s->closed[i])
            continue;
        bool leaves = k == 0 || proof->escaped[i] * s->scale > 0.5;
        if (leaves)
            step->vent |= (uint64_t)1 << i;
        if (step->inject_mm3 < 0.5 || lip_of(s, i, step->up) < surface)
            step->cover |= (uint64_t)1 << i;
    }
    step->inlet = step->inject_mm3 < 0.5 ? -1 : inlet_for(s, step->up);
    if (step->inlet >= 0)
        step->cover &= ~((uint64_t)1 << step->inlet);
}

static vug_status write_fill(scene *s)
{
    double before = s->o->info.capacity_mm3;
    for (size_t k = 0; k < s->steps; k++) {
        vug_plan_step *step = s->o->fill + k;
        const vugi_proof_step *proof = s->proof + k;
        *step = (vug_plan_step){.struct_size = sizeof *step};
        memcpy(step->up, s->o->up + 3 * k, sizeof step->up);
        if (k > 0)
            vugi_turn_between(step[-1].up, step->up, step->axis, &step->angle_deg);
        step->trapped_mm3 = proof->trapped * s->scale;
        step->inject_mm3 = fmax(0.0, before - step->trapped_mm3);
        before = step->trapped_mm3;
        step->wait_s = k == 0 ? 0.0 : rise_time(s, proof->travel, proof->bubble * s->scale);
        fill_openings(s, k, step);
        vug_status status = vugi_stand(&s->p->ctx->mem, s->p->cavities->part, s->p->center, step->up,
            0.05, &step->stand_mm);
        if (status)
            return vugi_fail_memory(s->p->ctx);
    }
    return VUG_OK;
}

/* The same sequence upside down: liquid lies where air would, and leaves where air would. */
static vug_status write_drain(scene *s)
{
    for (size_t k = 0; k < s->steps; k++) {
        vug_plan_step *step = s->o->drain + k;
        *step = s->o->fill[k];
        step->inlet = -1;
        step->cover = 0;
        for (int j = 0; j < 3; j++)
            step->up[j] = -step->up[j];
        size_t lowest = highest(s, s->o->fill[k].up);
        step->wait_s = lowest == SIZE_MAX ? -1.0
            : drain_time(s, step->up, lowest, step->inject_mm3);
        if (!vugi_plan_exchanges(&s->p->solvent, s->o->cavities, s->closed, step->up))
            step->wait_s = -1.0;
        if (k > 0 && step->inject_mm3 < 0.5)
            step->wait_s = SHORTEST_S;
        vug_status status = vugi_stand(&s->p->ctx->mem, s->p->cavities->part, s->p->center, step->up,
            0.05, &step->stand_mm);
        if (status)
            return vugi_fail_memory(s->p->ctx);
    }
    return VUG_OK;
}

/* ---- what if it is held a little askew ----------------------------------------------- */

static vug_status tilted(scene *s, double *worst)
{
    vugi_planning *p = s->p;
    double up[3 * (VUG_MAX_TURNS + 1)], capacity;
    vugi_proof_step step[VUG_MAX_TURNS + 1];
    *worst = 0.0;
    if (!(p->options.tilt_deg > 0.0))
        return VUG_OK;
    for (int way = 0; way < 4; way++) {
        for (size_t k = 0; k < s->steps; k++) {
            double basis[9];
            vugi_basis(s->o->up + 3 * k, basis);
            vugi_turn_up(s->o->up + 3 * k, basis + 3 * (way / 2),
                way % 2 ? -p->options.tilt_deg : p->options.tilt_deg, up + 3 * k);
        }
        vugi_proof_task task = {s->o->cavities, s->closed, &p->gates, p->held, up, s->steps, p->h,
            p->turn_step_deg};
        vug_status status = vugi_proof_run(p->ctx, &task, step, &capacity);
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
    bits |= vugi_plan_hold_cautions(s->p);
    for (size_t i = 0; i < o->sites; i++) {
        const vug_plan_bore *b = &o->site[i].bore;
        bits |= 1u << VUG_CAUTION_DUST;
        if (b->edge_mm < 1.5 * b->diameter_mm || b->thinnest_mm < 0.5 * b->depth_mm)
            bits |= 1u << VUG_CAUTION_THIN;
    }
    for (size_t k = 0; k < s->steps; k++) {
        if (o->fill[k].cover)
            bits |= 1u << VUG_CAUTION_PRESSURE;
        if (o->fill[k].wait_s < 0.0)
            bits |= 1u << VUG_CAUTION_HELD;
        if (o->drain[k].wait_s < 0.0)
            bits |= 1u << VUG_CAUTION_EXCHANGE;
    }
    if (!vug_bubble_stuck_diameter(NULL, &s->p->fluid, &held) && held > s->p->passage)
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
    vug_supply supply;
    vug_supply_init(&supply, sizeof supply);
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
    double worst, share = s->proof[s->steps - 1].trapped * s->scale / info->capacity_mm3;
    vug_status status = tilted(s, &worst);
    info->struct_size = sizeof *info;
    info->bores = (uint32_t)s->o->sites;
    vugi_plan_hold_info(p, info);
    info->searched_all = p->searched_all;
    info->steps = (uint32_t)s->steps;
    info->trapped_mm3 = share * info->capacity_mm3;
    info->residue_mm3 = info->trapped_mm3;
    info->tilted_mm3 = fmax(worst, share) * info->capacity_mm3;
    info->slowly_mm3 = fmax(s->slowly, share) * info->capacity_mm3;
    info->searched_mm3 = s->o->searched * info->capacity_mm3;
    info->inject_mm3 = info->capacity_mm3 - info->trapped_mm3;
    info->within_limit = share <= p->options.limit;
    /* hands are not exact: air counts as the mean of what stays and of the worst when held askew */
    info->cost += p->options.air_cost * 100.0
        * (0.5 * (share + fmax(worst, share)) - s->o->searched);
    return status;
}

/* Plays it as the bubbles' speed has it, and once more with slow turns. */
static vug_status play(scene *s, const vugi_proof_task *task, double *columns)
{
    vugi_proof_step slow[VUG_MAX_TURNS + 1];
    vugi_proof_task again = *task;
    double volume;
    vug_status status = vugi_proof_run(s->p->ctx, task, s->proof, columns);
    s->slowly = s->proof[s->steps - 1].trapped / *columns;
    if (status || task->turn_step_deg > 0.0 || s->steps == 1)
        return status;
    again.h = s->p->h;
    again.turn_step_deg = SLOW_STEP_DEG;
    status = vugi_proof_run(s->p->ctx, &again, slow, &volume);
    s->slowly = slow[s->steps - 1].trapped / volume;
    return status;
}

vug_status vugi_plan_prove(vugi_planning *p, vugi_option *o)
{
    scene s = {.p = p, .o = o, .steps = o->tilt.turns + 1};
    vugi_proof_task task = {.closed = s.closed, .gates = &p->gates, .held = p->held, .up = o->up,
        .steps = s.steps, .h = p->size / p->options.verify_across, .turn_step_deg = p->turn_step_deg};
    double columns = 0.0;
    vug_status status = drill(&s);
    if (status)
        return status;
    task.cavities = o->cavities;
    o->info.capacity_mm3 = 0.0;
    for (size_t i = 0; i < o->cavities->cavity_count; i++)
        o->info.capacity_mm3 += o->cavities->cavity[i].volume;
    status = play(&s, &task, &columns);
    if (status)
        return status;
    s.scale = o->info.capacity_mm3 / columns;
    status = write_info(&s);
    if (!status)
        status = write_fill(&s);
    if (!status)
        status = write_drain(&s);
    if (!status)
        status = supplies(&s);
    if (!status)
        set_cautions(&s);
    o->proven = !status;
    return status;
}
