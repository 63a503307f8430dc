/* SPDX-License-Identifier: MIT
 * The public face of plans. */
#include "plan/barriers.h"
#include "plan/bores/bores.h"
#include "plan/bores/lone.h"
#include "plan/cost.h"
#include "plan/expect.h"
#include "plan/liquid.h"
#include "plan/search/alternatives.h"
#include "plan/search/poses.h"
#include "plan/verify/coat.h"
#include "plan/verify/move.h"
#include "plan/verify/start.h"
#include "plan/verify/verify.h"
#include "plan/verify/walls.h"

#include "airtree/barrier.h"
#include "airtree/pose_set.h"
#include "flow/wait.h"
#include "cavity/spacing.h"
#include "mesh/measure.h"
#include "pose/pose.h"
#include "pose/rotation.h"

#include <math.h>
#include <string.h>

static const vug_plan_options plan_defaults = {
    .struct_size = sizeof(vug_plan_options),
    .columns_across = 110,
    .verify_across = 280,
    .pose_count = 96,
    .max_turns = 4,
    .max_bores = 3,
    .limit = 0.005,
    .turn_cost = VUGI_COST_TURN,
    .bore_cost = VUGI_COST_BORE,
    .air_cost = VUGI_COST_AIR,
    .syringe_ml = 10.0,
    .chuck_mm = 8.0,
    .reach_mm = 20.0,
    .tilt_deg = 5.0,
    .bare_limit = 1.0,
    .max_repeats = 2,
};

vug_status vug_plan_options_init(vug_plan_options *options, size_t size)
{
    return vugi_struct_init(options, size, &plan_defaults, sizeof plan_defaults);
}

/* ---- reading what was asked ----------------------------------------------------------- */

typedef struct limits {
    const char *name;
    double value, lo, hi;
} limits;

static vug_status check_ranges(vug_context *ctx, const vug_plan_options *o)
{
    const limits list[] = {
        {"columns_across", o->columns_across, 16, 2000},
        {"verify_across", o->verify_across, 16, VUG_MAX_COLUMNS_ACROSS / 2},
        {"pose_count", o->pose_count, 1, 1000},
        {"max_turns", o->max_turns, 0, VUG_MAX_TURNS},
        {"max_repeats", o->max_repeats, 0, VUG_MAX_TURNS},
        {"max_bores", o->max_bores, 0, VUG_MAX_BORES},
        {"drills", o->drills, 0, VUG_DRILLS_COUNT - 1},
        {"limit", o->limit, 0.0, 1.0},
        {"bare_limit", o->bare_limit, 0.0, 1.0},
        {"turn_cost", o->turn_cost, 0.0, 1e6},
        {"bore_cost", o->bore_cost, 0.0, 1e6},
        {"air_cost", o->air_cost, 0.0, 1e6},
        {"bore_mm", o->bore_mm, 0.0, 1000.0},
        {"syringe_ml", o->syringe_ml, 0.1, 1000.0},
        {"chuck_mm", o->chuck_mm, 0.0, 1000.0},
        {"reach_mm", o->reach_mm, 0.0, 10000.0},
        {"tilt_deg", o->tilt_deg, 0.0, 45.0},
    };
    for (size_t i = 0; i < sizeof list / sizeof *list; i++)
        if (!(list[i].value >= list[i].lo) || !(list[i].value <= list[i].hi))
            return vugi_fail(ctx, VUG_ERR_ARGUMENT,
                "vug_plan_options.%s is %g, it must be %g to %g", list[i].name, list[i].value,
                list[i].lo, list[i].hi);
    return VUG_OK;
}

static vug_status check_rows(vug_context *ctx, const char *name, const double *row, size_t count,
    size_t width, bool directions)
{
    if (count > 0 && !row)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL, but there are %zu", name, count);
    for (size_t i = 0; i < count; i++) {
        double square = 0.0;
        for (size_t k = 0; k < width; k++) {
            double x = row[width * i + k];
            if (!isfinite(x))
                return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: row %zu is not finite", name, i);
            square += x * x;
        }
        if (directions && !(square > 1e-200 && square < 1e200))
            return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: row %zu has no usable length", name, i);
    }
    return VUG_OK;
}

static vug_status read_options(vugi_planning *p, const vug_plan_options *given)
{
    vug_plan_options *o = &p->options;
    vug_context *ctx = p->ctx;
    *o = plan_defaults;
    vug_status status = vugi_struct_read(ctx, o, sizeof *o, given, "vug_plan_options");
    if (status)
        return status;
    if (o->columns_across == 0)
        o->columns_across = plan_defaults.columns_across;
    if (o->verify_across == 0)
        o->verify_across = plan_defaults.verify_across;
    if (o->pose_count == 0)
        o->pose_count = plan_defaults.pose_count;
    status = check_ranges(ctx, o);
    if (!status)
        status = vugi_range_check(ctx, o->fluid_low, &p->fluid, o->fluid_high);
    if (!status)
        status = check_rows(ctx, "view", o->view, o->view ? o->view_count : 0, 3, true);
    if (!status)
        status = check_rows(ctx, "keep_clear", o->keep_clear, o->keep_clear_count, 4, false);
    if (!status)
        status = check_rows(ctx, "preferred", o->preferred, o->preferred_count, 4, false);
    if (!status && o->start_given)
        status = check_rows(ctx, "start_air", o->start_air, o->start_air ? o->start_air_count : 0,
            3, false);
    if (!status && o->pose_given)
        status = vugi_unit(ctx, "first_up", o->first_up, o->first_up);
    if (status)
        return status;
    size_t triangles = vug_mesh_triangle_count(p->cavities->part);
    if (o->triangle_flag_count != (o->triangle_flags ? triangles : 0))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "%zu triangle_flags given for a part of %zu triangles", o->triangle_flag_count,
            triangles);
    return VUG_OK;
}

/* So that small cavities are seen too, as far as that costs no more than 16 times the columns. */
static double search_spacing(const vugi_planning *p)
{
    const double h = p->size / p->options.columns_across;
    double least = h;
    for (size_t i = 0; i < p->cavities->cavity_count; i++)
        if (p->cavities->cavity[i].volume >= VUGI_LEAST_MM3)
            least = fmin(least, vugi_spacing_within(p->cavities, i, h));
    return fmax(least, h / 4.0);
}

static vug_status read_part(vugi_planning *p, const int32_t *roles, size_t role_count)
{
    vugi_pose_setup setup;
    vug_mesh_measures measures = {.struct_size = sizeof measures};
    vug_status status = vugi_pose_setup_read(p->ctx, p->cavities, roles, role_count, NULL,
        VUGI_ACROSS, &setup);
    p->role = setup.role;
    if (status)
        return status;
    p->closed = vugi_alloc(&p->ctx->mem, p->cavities->opening_count, sizeof *p->closed);
    p->reached = vugi_calloc(&p->ctx->mem, p->cavities->cavity_count, sizeof *p->reached);
    if (!p->closed || !p->reached)
        return vugi_fail_memory(p->ctx);
    for (size_t i = 0; i < p->cavities->opening_count; i++)
        p->closed[i] = p->role[i] == VUG_ROLE_SEALED;
    const vugi_spread spread = vugi_cavities_spread(p->cavities, 0, p->cavities->cavity_count);
    p->size = spread.longest;
    p->square = spread.square;
    p->h = search_spacing(p);
    status = vugi_start_read(p);
    if (status)
        return status;
    vugi_range saved = vugi_progress_enter(p->ctx, 0.0, 0.02, "measuring");
    status = vugi_mesh_measure(p->ctx, p->cavities->part, &measures);
    vugi_progress_leave(p->ctx, saved);
    memcpy(p->center, measures.centroid_mm, sizeof p->center);
    return status;
}

/* Bubbles as wide as the passages, over the size of the cavity: slow ones stay where they are during a
 * turn of a second or two. */
static void judge_speed(vugi_planning *p)
{
    const double slow_s = 10.0;
    double speed = 0.0;
    p->passage = vugi_passage(p->cavities);
    double width = fmin(p->passage, p->size), tube = 0.0;
    if (vug_bubble_open_speed(NULL, &p->fluid, 0, &(double){0.25 * width}, 1, &speed)
        || vug_bubble_tube_speed(NULL, &p->fluid, &width, 1, &tube))
        speed = 0.0;
    p->turn_step_deg = fmin(speed, tube) * slow_s > p->size ? 30.0 : 0.0;
}

static bool any_open(const vugi_planning *p)
{
    for (size_t i = 0; i < p->cavities->opening_count; i++)
        if (!p->closed[i])
            return true;
    return false;
}

/* Where some opening is open, cavities that none leads to stay as they are: they are told, not drilled. A model that is
 * not printed yet can have a hole into each that holds anything. */
static void find_sealed(vugi_planning *p)
{
    const vug_cavities *c = p->cavities;
    bool open = any_open(p);
    p->model = p->options.design || !open;
    double all = 0.0, sealed = 0.0;
    for (size_t i = 0; i < c->cavity_count; i++)
        p->reached[i] = !open || (p->options.design && c->cavity[i].volume >= VUGI_LEAST_MM3);
    for (size_t i = 0; i < c->opening_count; i++)
        if (!p->closed[i])
            p->reached[c->opening[i].cavity] = true;
    for (size_t i = 0; i < c->cavity_count; i++) {
        all += c->cavity[i].volume;
        sealed += p->reached[i] ? 0.0 : c->cavity[i].volume;
    }
    p->sealed = all > 0.0 ? p->pose_set.capacity * sealed / all : 0.0;
    p->limit = p->sealed + p->options.limit * (p->pose_set.capacity - p->sealed);
}

/* ---- the alternatives in order ---------------------------------------------------------- */

/* proved: its cost is that of the air that stays, and no longer of what the search saw stay. */
static double value(const vug_plan_options *options, const vugi_option *o, bool proved)
{
    const vug_plan_info *info = &o->info;
    const double bare = info->skin_mm2 > 0.0 ? info->bare_mm2 / info->skin_mm2 : 0.0;
    const double share = vugi_option_air(o, info->trapped_mm3);
    return info->cost + (proved ? o->risk : vugi_cost_of_air(options, share - o->searched))
        + vugi_cost_of_limit(options, share) + vugi_cost_of_bare(options, bare);
}

/* Chances that differ by less are alike. */
static const double ALIKE_CHANCE = 0.05;

/* Nothing that a maker would weigh speaks for it, for as many holes and turns or more: no better chance, and where more
 * stays than was asked for not a tenth less air, and no less than a thousandth of the cavity. The one before it costs
 * less. */
static bool dominated(const vugi_option *a, const vugi_option *by)
{
    const double alike = fmax(1e-3 * a->info.capacity_mm3, 0.1 * by->info.trapped_mm3);
    return by->info.bores <= a->info.bores && by->info.steps <= a->info.steps
        && by->missed <= a->missed && by->lone <= a->lone
        && (by->info.within_limit || by->info.trapped_mm3 <= a->info.trapped_mm3 + alike)
        && by->info.within_limit >= a->info.within_limit
        && by->info.chance >= a->info.chance - ALIKE_CHANCE;
}

/* A cavity that stays shut is no other way. Of the rest, before they are proved, that is known only of those that miss the
 * limit: what is done for hands that are not exact adds nothing to them. */
static bool drops_out(const vugi_option *a, const vugi_option *by, bool proved)
{
    return a->missed > by->missed
        || ((proved || (!a->info.within_limit && !by->info.within_limit)) && dominated(a, by));
}

static void put_in_order(vug_plan *plan, const vug_plan_options *options, bool proved)
{
    for (size_t i = 1; i < plan->count; i++) {
        vugi_option *moving = plan->option[i];
        size_t at = i;
        double own = value(options, moving, proved);
        for (; at > 0 && own < value(options, plan->option[at - 1], proved); at--)
            plan->option[at] = plan->option[at - 1];
        plan->option[at] = moving;
    }
    size_t kept = 0;
    for (size_t i = 0; i < plan->count; i++) {
        bool drop = false;
        for (size_t k = 0; k < kept && !drop; k++)
            drop = drops_out(plan->option[i], plan->option[k], proved);
        if (drop)
            vugi_option_free(&plan->mem, plan->option[i]);
        else
            plan->option[kept++] = plan->option[i];
    }
    plan->count = kept;
}

/* ---- making --------------------------------------------------------------------------------- */

static vug_status search(vugi_planning *p)
{
    bool open = any_open(p);
    uint32_t turns = p->options.max_turns + 1;
    vugi_range range = vugi_progress_enter(p->ctx, 0.3, 0.5, "turns");
    vug_status status = VUG_OK;
    if (open)
        status = vugi_plan_turns(p, NULL, 0, p->options.max_turns, &turns);
    vugi_progress_leave(p->ctx, range);
    if (status || (open && p->options.max_bores == 0)
        || (open && turns <= vugi_least_turns(p) && vugi_lone_count(p, NULL, 0) == 0))
        return status;
    range = vugi_progress_enter(p->ctx, 0.5, 0.8, "bores");
    status = vugi_skin_build(p->ctx, p->cavities, &p->options, &p->fluid, &p->skin);
    if (!status)
        status = vugi_plan_bores(p, !open, turns);
    vugi_skin_free(&p->ctx->mem, &p->skin);
    vugi_progress_leave(p->ctx, range);
    return status;
}

/* A call for each alternative, over a part of the progress. */
static vug_status for_all(vugi_planning *p, double lo, double hi,
    vug_status (*call)(vugi_planning *, vugi_option *))
{
    vug_plan *plan = p->plan;
    vug_status status = VUG_OK;
    for (size_t i = 0; i < plan->count && !status; i++) {
        double width = (hi - lo) / (double)plan->count, from = lo + width * (double)i;
        vugi_range range = vugi_progress_enter(p->ctx, from, from + width, "simulation");
        status = call(p, plan->option[i]);
        vugi_progress_leave(p->ctx, range);
    }
    return status;
}

static vug_status prove_all(vugi_planning *p)
{
    vug_plan *plan = p->plan;
    vug_status status = vugi_walls_measure(p->ctx, p->cavities, &p->wall, &p->thin);
    if (!status)
        status = for_all(p, 0.8, 0.84, vugi_plan_verify);
    if (!status) {
        put_in_order(plan, &p->options, false);
        status = for_all(p, 0.84, 1.0, vugi_plan_prove);
    }
    for (size_t i = 0; i < plan->count; i++) {
        vugi_plan_proof_free(&plan->mem, plan->option[i]->proof);
        plan->option[i]->proof = NULL;
    }
    if (!status)
        put_in_order(plan, &p->options, true);
    for (size_t i = 0; i < plan->count && !status; i++)
        status = vugi_plan_rate(p, plan->option[i]);
    return status ? status : vugi_plan_coat(p);
}

static vug_status make(vugi_planning *p)
{
    vugi_range range = vugi_progress_enter(p->ctx, 0.0, 0.3, "poses");
    vug_status status = vugi_plan_barriers(p);
    if (!status)
        status = vugi_start_find(p);
    if (!status)
        status = vugi_poses_choose(p);
    vugi_progress_leave(p->ctx, range);
    if (!status) {
        find_sealed(p);
        status = search(p);
    }
    if (!status)
        status = prove_all(p);
    if (!status)
        status = vugi_step(p->ctx, 1.0);
    vugi_pose_set_free(&p->ctx->mem, &p->pose_set);
    vugi_plan_barriers_free(p);
    return status;
}

vug_status vug_plan_make(vug_context *ctx, const vug_cavities *cavities, const vug_fluid *fluid,
    const vug_fluid *solvent, const int32_t *roles, size_t role_count,
    const vug_plan_options *options, vug_plan **out)
{
    vugi_planning p = {.ctx = ctx, .cavities = cavities, .searched_all = true};
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or out is NULL");
    vugi_progress_begin(ctx, "plan");
    vug_status status = vugi_plan_fluid(ctx, fluid, &p.fluid);
    if (!status)
        status = vugi_plan_fluid(ctx, solvent, &p.solvent);
    if (!status)
        status = read_options(&p, options);
    if (!status)
        status = read_part(&p, roles, role_count);
    if (!status)
        status = vugi_plan_expect_memory(&p);
    if (!status && !(p.plan = vugi_calloc(&ctx->mem, 1, sizeof *p.plan)))
        status = vugi_fail_memory(ctx);
    if (!status) {
        judge_speed(&p);
        p.plan->mem = ctx->mem;
        p.plan->tilt_deg = p.options.tilt_deg;
        p.plan->solvent = p.solvent;
        p.plan->limit = p.options.limit;
        p.plan->most_bores = p.options.max_bores;
        p.plan->most_turns = p.options.max_turns;
        p.plan->pose_given = p.options.pose_given != 0;
        p.plan->bare_limit = p.options.bare_limit;
        p.plan->fluid = p.fluid;
        status = make(&p);
    }
    vugi_free(&ctx->mem, p.role);
    vugi_free(&ctx->mem, p.closed);
    vugi_free(&ctx->mem, p.reached);
    vugi_free(&ctx->mem, p.start.parcel);
    if (!status && p.plan->count == 0)
        status = vugi_fail(ctx, VUG_ERR_NOT_FOUND, "no opening is open, and no bore is allowed");
    if (status)
        vug_plan_free(p.plan);
    else
        *out = p.plan;
    return status;
}

/* ---- reading it ------------------------------------------------------------------------------ */

void vug_plan_free(vug_plan *plan)
{
    if (!plan)
        return;
    for (size_t i = 0; i < plan->count; i++)
        vugi_option_free(&plan->mem, plan->option[i]);
    vugi_allocator mem = plan->mem;
    vugi_free(&mem, plan);
}

size_t vug_plan_count(const vug_plan *plan)
{
    return plan ? plan->count : 0;
}

vug_status vug_plan_get(const vug_plan *plan, size_t index, vug_plan_info *info)
{
    if (!plan || !info)
        return VUG_ERR_ARGUMENT;
    if (index >= plan->count)
        return VUG_ERR_NOT_FOUND;
    const vug_plan_info *own = &plan->option[index]->info;
    return vugi_struct_write(NULL, info, own, sizeof *own, "vug_plan_info");
}

static vug_status coat_step(const vug_plan *plan, size_t index, size_t step, vug_step_info *result)
{
    vug_step_info own = {.struct_size = sizeof own, .inlet = -1};
    if (index >= plan->count || step >= plan->option[index]->info.coat_steps)
        return VUG_ERR_NOT_FOUND;
    memcpy(own.up, plan->coat.up + 3 * step, sizeof own.up);
    if (step > 0)
        vugi_rotation_between(plan->coat.up + 3 * (step - 1), own.up, own.axis, &own.angle_deg);
    return vugi_struct_write(NULL, result, &own, sizeof own, "vug_step_info");
}

vug_status vug_plan_step(const vug_plan *plan, size_t index, int32_t sequence, size_t step,
    vug_step_info *result)
{
    if (!plan || !result || sequence < VUG_PLAN_FILL || sequence > VUG_PLAN_COAT)
        return VUG_ERR_ARGUMENT;
    if (sequence == VUG_PLAN_COAT)
        return coat_step(plan, index, step, result);
    if (index >= plan->count)
        return VUG_ERR_NOT_FOUND;
    const vugi_option *o = plan->option[index];
    if (step >= (sequence == VUG_PLAN_FILL ? o->info.steps : o->info.drain_steps))
        return VUG_ERR_NOT_FOUND;
    const vug_step_info *own = (sequence == VUG_PLAN_FILL ? o->fill : o->drain) + step;
    return vugi_struct_write(NULL, result, own, sizeof *own, "vug_step_info");
}

vug_status vug_plan_bore(const vug_plan *plan, size_t index, size_t bore,
    vug_plan_bore_info *result)
{
    if (!plan || !result)
        return VUG_ERR_ARGUMENT;
    if (index >= plan->count || bore >= plan->option[index]->sites)
        return VUG_ERR_NOT_FOUND;
    const vug_plan_bore_info *own = &plan->option[index]->site[bore].bore;
    return vugi_struct_write(NULL, result, own, sizeof *own, "vug_plan_bore_info");
}

const vug_cavities *vug_plan_cavities(const vug_plan *plan, size_t index)
{
    return plan && index < plan->count ? plan->option[index]->cavities : NULL;
}

int32_t vug_plan_caution(const vug_plan *plan, size_t index, int32_t caution)
{
    if (!plan || index >= plan->count || caution < 0 || caution >= VUG_CAUTION_COUNT)
        return 0;
    return (int32_t)(plan->option[index]->cautions >> caution & 1u);
}
