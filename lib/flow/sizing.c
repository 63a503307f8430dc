/* SPDX-License-Identifier: MIT
 * The hole to drill: the least diameter of each condition, the widest of them, the next drill. */
#include "base/root.h"
#include "flow/capillarity.h"
#include "flow/drain.h"
#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/hole.h"
#include "flow/interval.h"
#include "flow/numbers.h"
#include "flow/preset.h"

#include <math.h>

static const vug_hole_task defaults = {
    .struct_size = sizeof(vug_hole_task),
    .drills = VUG_DRILLS_STOCK,
    .wall_mm = 2.0,
    .thumb_force_n = 30.0,
    .plunger_mm = 14.48,
    .needle_gap_mm = 0.4,
    .air_pressure_pa = 500.0,
    .drain_area_mm2 = 1000.0,
    .drain_from_mm = 50.0,
    .drain_to_mm = 1.0,
    .lift_mm_s = VUGI_VAT_LIFT_MM_S,
    .suction_pa = VUGI_VAT_SUCTION_PA,
    .vat_kg_m3 = VUGI_VAT_KG_M3,
    .vat_pa_s = VUGI_VAT_PA_S,
};

/* Air at 20 C (from memory). */
static const vug_fluid air = {sizeof(vug_fluid), 1.204, 0.0, 0.0, 0.0, 1.82e-5, 1.0, 0.0};

vug_status vug_hole_task_init(vug_hole_task *task, size_t size)
{
    return vugi_struct_init(task, size, &defaults, sizeof defaults);
}

/* ---- one condition each: ln(allowed / needed), rising with the diameter --------- */

static const double finest_mm = 1e-3; /* no condition asks for less: no drill is finer */
enum { LN_FAR = 10000 };              /* farther than any two numbers are from each other */

typedef struct question {
    const vug_fluid *fluid;
    const vug_hole_task *task;
    double flow;    /* m3/s, where it is a matter of flow */
    double allowed; /* Pa or s */
} question;

static double ratio(double allowed, double needed)
{
    if (!(needed < INFINITY))
        return -LN_FAR;
    return needed > 0.0 ? log(allowed) - log(needed) : LN_FAR; /* the quotient may be too large */
}

static double liquid_pressure_left(const void *user, double ln_mm)
{
    const question *q = user;
    vugi_orifice hole = vugi_orifice_make(q->fluid, exp(ln_mm), q->task->wall_mm);
    return ratio(q->allowed, vugi_orifice_pressure(&hole, q->flow));
}

/* Resin of the vat through a hole into the resin of a cup. */
static double suction_left(const void *user, double ln_mm)
{
    const question *q = user;
    vug_fluid resin = vugi_vat_resin(q->task->vat_kg_m3, q->task->vat_pa_s);
    vugi_orifice hole = vugi_orifice_immersed(&resin, exp(ln_mm), q->task->wall_mm);
    return ratio(q->allowed, vugi_orifice_pressure(&hole, q->flow));
}

/* Air drives out the film of liquid that closes the hole, then flows. */
static double air_pressure_left(const void *user, double ln_mm)
{
    const question *q = user;
    double mm = exp(ln_mm);
    vugi_orifice hole = vugi_orifice_immersed(&air, mm, q->task->wall_mm);
    double film = 4.0 * q->fluid->surface_tension_n_m / (mm * VUGI_MM);
    return ratio(q->allowed, film + vugi_orifice_pressure(&hole, q->flow));
}

static double drain_time_left(const void *user, double ln_mm)
{
    const question *q = user;
    double mm = exp(ln_mm), lo = q->task->drain_to_mm * VUGI_MM;
    double area = q->task->drain_area_mm2 * VUGI_MM2;
    vugi_orifice hole = vugi_orifice_make(q->fluid, mm, q->task->wall_mm);
    double stop = hole.start / (q->fluid->density_kg_m3 * VUGI_G);
    if (lo * (1.0 - 1e-12) <= stop)
        return -LN_FAR;
    return ratio(q->allowed,
        vugi_drain_seconds(&hole, lo, area, q->task->drain_from_mm * VUGI_MM, area));
}

static vug_status least(vug_context *ctx, const char *call, const char *condition,
    double (*left)(const void *, double), const question *q, double *mm)
{
    double diameter = exp(vugi_root(left, q, 0.0));
    double yield = q->fluid->yield_stress_pa, kept = 0.375 * VUGI_PI * yield / VUGI_G / VUGI_MM;
    if (!(diameter <= 1000.0) || left(q, log(diameter)) < -1e-3)
        return yield > 0.0
            ? vugi_fail(ctx, VUG_ERR_DOMAIN,
                "%s: no hole up to 1000 mm meets the condition '%s'; thin the liquid (%g Pa of "
                "yield stress keep the last %.3g mm above any hole), allow more, or ask for less",
                call, condition, yield, kept / q->fluid->density_kg_m3)
            : vugi_fail(ctx, VUG_ERR_DOMAIN,
                "%s: no hole up to 1000 mm meets the condition '%s'; thin the liquid, allow "
                "more, or ask for less",
                call, condition);
    *mm = fmax(diameter, finest_mm);
    return VUG_OK;
}

/* ---- all conditions ---------------------------------------------------------------- */

static vug_status check(vug_context *ctx, const char *call, const vug_hole_task *t)
{
    const vugi_limit limits[] = {
        {"wall_mm", t->wall_mm, 0.0, 1e4},
        {"inject_mm3_s", t->inject_mm3_s, 0.0, 1e9},
        {"thumb_force_n", t->thumb_force_n, 1e-3, 1e5},
        {"plunger_mm", t->plunger_mm, 0.1, 1e3},
        {"needle_mm", t->needle_mm, 0.0, 100.0},
        {"needle_gap_mm", t->needle_gap_mm, 0.0, 100.0},
        {"air_mm3_s", t->air_mm3_s, 0.0, 1e9},
        {"air_pressure_pa", t->air_pressure_pa, 1e-3, 1e7},
        {"drain_s", t->drain_s, 0.0, 1e9},
        {"drain_area_mm2", t->drain_area_mm2, 1e-6, 1e9},
        {"drain_from_mm", t->drain_from_mm, 1e-3, 1e5},
        {"drain_to_mm", t->drain_to_mm, 1e-6, t->drain_from_mm * (1.0 - 1e-9)},
        {"exchange", t->exchange, 0.0, 2.0},
        {"lift_area_mm2", t->lift_area_mm2, 0.0, 1e9},
        {"lift_mm_s", t->lift_mm_s, 1e-6, 1e4},
        {"suction_pa", t->suction_pa, 1e-3, 1e5},
        {"hold_head_mm", t->hold_head_mm, 0.0, 1e5},
        {"vat_kg_m3", t->vat_kg_m3, 1.0, 1e5},
        {"vat_pa_s", t->vat_pa_s, 1e-6, 1e4},
    };
    vug_status status = vugi_check(ctx, call, limits, sizeof limits / sizeof limits[0]);
    if (status)
        return status;
    if (t->inject_mm3_s == 0.0 && t->needle_mm == 0.0 && t->air_mm3_s == 0.0 && t->drain_s == 0.0
        && t->exchange == 0 && t->lift_area_mm2 == 0.0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "%s: nothing is asked of the hole; set inject_mm3_s, "
            "needle_mm, air_mm3_s, drain_s, exchange or lift_area_mm2",
            call);
    return VUG_OK;
}

static vug_status flow_conditions(vug_context *ctx, const char *call, const vug_fluid *fluid,
    const vug_hole_task *t, vug_hole_choice *c)
{
    vug_status status = VUG_OK;
    double plunger = VUGI_PI / 4.0 * t->plunger_mm * t->plunger_mm * VUGI_MM2;
    question q = {fluid, t, t->inject_mm3_s * VUGI_MM3, t->thumb_force_n / plunger};
    if (t->inject_mm3_s > 0.0)
        status = least(ctx, call, "inject", liquid_pressure_left, &q, &c->inject_mm);
    q = (question){fluid, t, t->air_mm3_s * VUGI_MM3, t->air_pressure_pa};
    if (!status && t->air_mm3_s > 0.0)
        status = least(ctx, call, "air", air_pressure_left, &q, &c->air_mm);
    q = (question){fluid, t, 0.0, t->drain_s};
    if (!status && t->drain_s > 0.0)
        status = least(ctx, call, "drain", drain_time_left, &q, &c->drain_mm);
    q = (question){fluid, t, t->lift_area_mm2 * t->lift_mm_s * VUGI_MM3, t->suction_pa};
    if (!status && t->lift_area_mm2 > 0.0)
        status = least(ctx, call, "suction", suction_left, &q, &c->suction_mm);
    return status;
}

static vug_status conditions(vug_context *ctx, const char *call, const vug_fluid *fluid,
    const vug_hole_task *t, vug_hole_choice *c)
{
    vug_status status = flow_conditions(ctx, call, fluid, t, c);
    if (status)
        return status;
    double lc_mm = vugi_capillary_length(fluid) / VUGI_MM;
    if (t->needle_mm > 0.0)
        c->needle_mm = fmax(t->needle_mm + t->needle_gap_mm, finest_mm);
    if (t->exchange)
        c->exchange_mm = 2.0 * lc_mm
            * (t->exchange == 1 ? vugi_exchange_free(fluid->contact_angle_deg)
                                : vugi_exchange_pinned);
    double held = 4.0 * lc_mm * lc_mm * cos(fluid->contact_angle_deg * VUGI_PI / 180.0);
    if (t->hold_head_mm > 0.0)
        status = vugi_give(ctx, call, fmax(held / t->hold_head_mm, 0.0), &c->hold_mm);
    if (status)
        return status;
    const double each[VUG_HOLE_CONDITION_COUNT] = {
        [VUG_HOLE_INJECT] = c->inject_mm,
        [VUG_HOLE_NEEDLE] = c->needle_mm,
        [VUG_HOLE_AIR] = c->air_mm,
        [VUG_HOLE_DRAIN] = c->drain_mm,
        [VUG_HOLE_EXCHANGE] = c->exchange_mm,
        [VUG_HOLE_SUCTION] = c->suction_mm,
    };
    c->decides = -1;
    for (int i = 0; i < VUG_HOLE_CONDITION_COUNT; i++)
        if (each[i] > c->least_mm) {
            c->least_mm = each[i];
            c->decides = i;
        }
    return VUG_OK;
}

/* At the limit of exchange a meniscus is only just unstable, and the flow is next to nothing (common practice, no
 * source). */
static const double over_exchange = 1.15;

static vug_status drill(vug_context *ctx, const vug_hole_task *t, vug_hole_choice *c)
{
    double least = fmax(c->least_mm, over_exchange * c->exchange_mm);
    vug_status status = vug_drill_next(ctx, t->drills, VUG_AT_OR_ABOVE, least, &c->drill_mm);
    if (status)
        return status;
    c->margin = c->least_mm > 0.0 ? c->drill_mm / c->least_mm - 1.0 : 0.0;
    c->holds = c->drill_mm <= c->hold_mm;
    return VUG_OK;
}

static vug_status read_task(vug_context *ctx, const char *call, const vug_hole_task *task,
    vug_hole_task *own)
{
    *own = defaults;
    vug_status status = vugi_struct_read(ctx, own, sizeof *own, task, "vug_hole_task");
    return status ? status : check(ctx, call, own);
}

vug_status vug_hole_choose(vug_context *ctx, const vug_fluid *fluid, const vug_hole_task *task,
    vug_hole_choice *choice)
{
    vug_fluid liquid;
    vug_hole_task own;
    vug_hole_choice found = {.struct_size = sizeof found};
    vug_status status = vugi_fluid_read(ctx, __func__, fluid, &liquid);
    if (!status)
        status = read_task(ctx, __func__, task, &own);
    if (!status)
        status = conditions(ctx, __func__, &liquid, &own, &found);
    if (!status)
        status = drill(ctx, &own, &found);
    return status ? status
                  : vugi_struct_write(ctx, choice, &found, sizeof found, "vug_hole_choice");
}

/* ---- a fluid known as a range -------------------------------------------------------- */

typedef struct corner {
    vug_context *ctx;
    const vug_hole_task *task;
    vug_hole_choice worst; /* of the corners seen so far */
} corner;

static vug_status least_at_corner(void *user, const vug_fluid *fluid, double *answer)
{
    corner *c = user;
    vug_hole_choice found = {.struct_size = sizeof found};
    vug_status status = conditions(c->ctx, "vug_hole_choose_range", fluid, c->task, &found);
    if (status)
        return status;
    if (found.least_mm >= c->worst.least_mm)
        c->worst = found;
    *answer = found.least_mm;
    return VUG_OK;
}

vug_status vug_hole_choose_range(vug_context *ctx, const vug_fluid *low, const vug_fluid *typical,
    const vug_fluid *high, const vug_hole_task *task, vug_interval *least_mm,
    vug_hole_choice *worst)
{
    vug_hole_task own_task;
    vug_status status = read_task(ctx, __func__, task, &own_task);
    if (status)
        return status;
    corner c = {ctx, &own_task, {.struct_size = sizeof c.worst}};
    vug_interval range = {.struct_size = sizeof range};
    status = vugi_over_fluids(ctx, __func__, low, typical, high, least_at_corner, &c, &range);
    if (!status)
        status = drill(ctx, &own_task, &c.worst);
    if (!status && worst)
        status = vugi_struct_check(ctx, worst, "vug_hole_choice");
    if (!status && least_mm)
        status = vugi_struct_write(ctx, least_mm, &range, sizeof range, "vug_interval");
    if (!status && worst)
        status = vugi_struct_write(ctx, worst, &c.worst, sizeof c.worst, "vug_hole_choice");
    return status;
}
