/* SPDX-License-Identifier: MIT
 * Questions about liquids, tubes, holes, menisci and bubbles. */
#include "flow.h"

#define COUNT(list) (sizeof list / sizeof list[0])

/* ---- either way: flow from pressure, or pressure from flow ---------------------- */

static const char *const reach_words[] = {"within a syringe's reach",
    "out of reach of a syringe (2 MPa)", NULL};

static double reach(double pressure_pa)
{
    return fabs(pressure_pa) > SYRINGE_PA;
}

static const ask tube_asks[] = {
    {"radius-mm", "Radius of the tube.", NEEDED, NULL},
    {"length-mm", "Its length.", NEEDED, NULL},
    {"pressure-pa", "Pressure that drives it; or give the flow.", ABSENT, NULL},
    {"flow-mm3-s", "Flow wanted; or give the pressure.", ABSENT, NULL},
};
static const tell tube_tells[] = {
    {"flow_mm3_s", "Flow, mm3/s", NULL, false},
    {"pressure_pa", "Pressure, Pa", NULL, false},
    {"start_pressure_pa", "It does not move below, Pa", NULL, false},
    {"reach", "The pressure is", reach_words, true},
};
static vug_status tube(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    vug_status status = VUG_OK;
    out[0] = in[3];
    out[1] = in[2];
    if (isnan(in[3]))
        status = vug_tube_flow(ctx, fluid, in[0], in[1], &in[2], 1, &out[0]);
    else
        status = vug_tube_pressure(ctx, fluid, in[0], in[1], &in[3], 1, &out[1]);
    out[3] = reach(out[1]);
    return status ? status : vug_tube_start_pressure(ctx, fluid, in[0], in[1], &out[2]);
}

static const ask slot_asks[] = {
    {"gap-mm", "Gap of the slot.", NEEDED, NULL},
    {"width-mm", "Its width, much more than the gap.", NEEDED, NULL},
    {"length-mm", "Its length along the flow.", NEEDED, NULL},
    {"pressure-pa", "Pressure that drives it; or give the flow.", ABSENT, NULL},
    {"flow-mm3-s", "Flow wanted; or give the pressure.", ABSENT, NULL},
};
static vug_status slot(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    vug_status status = VUG_OK;
    out[0] = in[4];
    out[1] = in[3];
    if (isnan(in[4]))
        status = vug_slot_flow(ctx, fluid, in[0], in[1], in[2], &in[3], 1, &out[0]);
    else
        status = vug_slot_pressure(ctx, fluid, in[0], in[1], in[2], &in[4], 1, &out[1]);
    out[3] = reach(out[1]);
    return status ? status : vug_tube_start_pressure(ctx, fluid, in[0], in[2], &out[2]);
}

static const ask bore_asks[] = {
    {"hole-diameter-mm", "Diameter of the hole.", NEEDED, NULL},
    {"wall-mm", "Length of the hole: the wall it goes through.", NEEDED, NULL},
    {"pressure-pa", "Pressure that drives it; or give the flow.", ABSENT, NULL},
    {"flow-mm3-s", "Flow wanted; or give the pressure.", ABSENT, NULL},
};
static vug_status bore(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    vug_status status = VUG_OK;
    out[0] = in[3];
    out[1] = in[2];
    if (isnan(in[3]))
        status = vug_hole_flow(ctx, fluid, in[0], in[1], &in[2], 1, &out[0]);
    else
        status = vug_hole_pressure(ctx, fluid, in[0], in[1], &in[3], 1, &out[1]);
    out[3] = reach(out[1]);
    return status ? status : vug_hole_start_pressure(ctx, fluid, in[0], in[1], &out[2]);
}

/* ---- emptying --------------------------------------------------------------------- */

static const ask empty_asks[] = {
    {"area-mm2", "Cross-section of the vessel.", NEEDED, NULL},
    {"from-mm", "Level above the outer end of the hole at first.", NEEDED, NULL},
    {"to-mm", "Level at the end, above 0.", NEEDED, NULL},
    {"hole-diameter-mm", "Diameter of the hole.", NEEDED, NULL},
    {"wall-mm", "Length of the hole.", NEEDED, NULL},
};
static const tell empty_tells[] = {
    {"time_s", "Time, s", NULL, false},
    {"first_flow_mm3_s", "Flow at first, mm3/s", NULL, false},
    {"last_flow_mm3_s", "Flow at last, mm3/s", NULL, false},
    {"drops_hang_below_mm", "Drops at the rim may stop it below a level of, mm", NULL, false},
};
static vug_status empty(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    double first, last;
    vug_status status = vug_drain_time(ctx, fluid, in[3], in[4], (double[]){in[2], in[1]},
        (double[]){in[0], in[0]}, 2, &out[0]);
    if (!status)
        status = vug_head_pressure(ctx, fluid, in[1], &first);
    if (!status)
        status = vug_hole_flow(ctx, fluid, in[3], in[4], &first, 1, &out[1]);
    if (!status)
        status = vug_head_pressure(ctx, fluid, in[2], &last);
    if (!status)
        status = vug_hole_flow(ctx, fluid, in[3], in[4], &last, 1, &out[2]);
    return status ? status : vug_capillary_hold_head(ctx, fluid, in[3], &out[3]);
}

/* ---- menisci ---------------------------------------------------------------------- */

static const ask exchange_asks[] = {
    {"hole-diameter-mm", "A lone hole, to learn what runs out of it.", ABSENT, NULL},
};
static const char *const runs_words[] = {"does not run by itself",
    "may or may not run: it lies between both diameters", "runs", NULL};
static const tell exchange_tells[] = {
    {"free_diameter_mm", "A lone hole exchanges air and liquid above, line of contact free, mm",
        NULL, false},
    {"pinned_diameter_mm", "The same, line held by a sharp rim, mm", NULL, false},
    {"capillary_length_mm", "Capillary length, mm", NULL, false},
    {"flow_mm3_s", "The lone hole lets out, if it runs, mm3/s", NULL, false},
    {"runs", "The lone hole", runs_words, true},
};
static vug_status exchange(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    vug_status status = vug_exchange_diameter(ctx, fluid, &out[0], &out[1]);
    if (!status)
        status = vug_capillary_length(ctx, fluid, &out[2]);
    if (!status && !isnan(in[0]))
        status = vug_exchange_flow(ctx, fluid, in[0], &out[3]);
    if (!status && !isnan(in[0]))
        out[4] = in[0] > out[1] ? 2.0 : in[0] > out[0] ? 1.0 : 0.0;
    return status;
}

static const ask meniscus_asks[] = {
    {"hole-diameter-mm", "Diameter of the hole or tube.", NEEDED, NULL},
    {"head-mm", "Head of liquid that it shall hold.", ABSENT, NULL},
};
static const char *const jurin_words[] = {"holds",
    "does not hold: the hole is wider than two capillary lengths, the liquid climbs less", NULL};
static const tell meniscus_tells[] = {
    {"rise_mm", "The liquid climbs in it, mm", NULL, false},
    {"pressure_pa", "It draws in or holds with, Pa", NULL, false},
    {"hang_mm", "Liquid hangs above it, at most, mm", NULL, false},
    {"hold_diameter_mm", "Widest hole that holds the head, mm", NULL, false},
    {"jurin", "Jurin's law for the climb", jurin_words, true},
};
static vug_status meniscus(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    double length = 0.0;
    vug_status status = vug_capillary_rise(ctx, fluid, 0.5 * in[0], &out[0]);
    if (!status)
        status = vug_capillary_length(ctx, fluid, &length);
    out[4] = 0.5 * in[0] > length;
    if (!status)
        status = vug_capillary_pressure(ctx, fluid, in[0], &out[1]);
    if (!status)
        status = vug_capillary_hold_head(ctx, fluid, in[0], &out[2]);
    if (!status && !isnan(in[1]))
        status = vug_capillary_hold_diameter(ctx, fluid, in[1], &out[3]);
    return status;
}

/* ---- bubbles ---------------------------------------------------------------------- */

static const ask bubble_asks[] = {
    {"tube-diameter-mm", "Inner diameter of the tube or branch that it rises in.", ABSENT, NULL},
    {"bubble-diameter-mm", "Diameter of a bubble in the open.", ABSENT, NULL},
    {"air-ml", "Air that has to pass the tube, the liquid coming the other way.", ABSENT, NULL},
};
static const char *const pass_words[] = {"never by itself: it is stuck", "in more than a day",
    "in hours", "in minutes", "within two minutes", NULL};

/* Which of the words above. */
static double pass_word(double seconds)
{
    return seconds < 120.0 ? 4.0 : seconds < 5400.0 ? 3.0 : seconds <= 86400.0 ? 2.0 : 1.0;
}

static const tell bubble_tells[] = {
    {"tube_speed_mm_s", "It rises in the tube at, mm/s", NULL, false},
    {"open_speed_mm_s", "It rises in the open at, mm/s", NULL, false},
    {"clean_speed_mm_s", "If the liquid is very clean, mm/s", NULL, false},
    {"stuck_diameter_mm", "It is stuck in tubes up to, mm", NULL, false},
    {"held_diameter_mm", "The yield stress holds bubbles up to, mm", NULL, false},
    {"pass_mm3_s", "Air passes the tube at, mm3/s", NULL, false},
    {"pass_time_s", "All of it takes, s", NULL, false},
    {"pass", "It passes", pass_words, true},
};
static vug_status bubble(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    vug_status status = vug_bubble_held(ctx, fluid, &out[3], &out[4]);
    if (!status && !isnan(in[0]))
        status = vug_bubble_tube_speed(ctx, fluid, &in[0], 1, &out[0]);
    if (!status && !isnan(in[1]))
        status = vug_bubble_open_speed(ctx, fluid, 0, &(double){0.5 * in[1]}, 1, &out[1]);
    if (!status && !isnan(in[1]))
        status = vug_bubble_open_speed(ctx, fluid, 1, &(double){0.5 * in[1]}, 1, &out[2]);
    if (status || isnan(in[0]) || isnan(in[2]))
        return status;
    status = vug_exchange_flow(ctx, fluid, in[0], &out[5]);
    double seconds = out[5] > 0.0 ? fmin(0.1 * NEVER_S, 1000.0 * in[2] / out[5]) : NEVER_S;
    out[6] = seconds;
    out[7] = out[5] > 0.0 ? pass_word(seconds) : 0.0;
    return status;
}

/* ---- the liquid itself -------------------------------------------------------------- */

static const tell fluid_tells[] = {
    {"density_kg_m3", "Density, kg/m3", NULL, false},
    {"surface_tension_n_m", "Surface tension, N/m", NULL, false},
    {"contact_angle_deg", "Contact angle, degrees", NULL, false},
    {"yield_pa", "Yield stress, Pa", NULL, false},
    {"consistency_pa_sn", "Consistency, Pa s^n", NULL, false},
    {"index", "Flow index", NULL, false},
};
static vug_status liquid(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)ctx, (void)in;
    out[0] = fluid->density_kg_m3;
    out[1] = fluid->surface_tension_n_m;
    out[2] = fluid->contact_angle_deg;
    out[3] = fluid->yield_stress_pa;
    out[4] = fluid->consistency_pa_sn;
    out[5] = fluid->flow_index;
    return VUG_OK;
}

static const ask yield_asks[] = {
    {"layer-mm", "Thickness of the layer on the plate.", NEEDED, NULL},
    {"slope-deg", "Slope at which it begins to creep.", NEEDED, NULL},
    {"density-kg-m3", "Density of the paint.", NEEDED, NULL},
};
static const tell yield_tells[] = {{"yield_pa", "Yield stress, Pa", NULL, false}};
static vug_status yield(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    return vug_yield_from_slope(ctx, in[2], in[0], in[1], &out[0]);
}

static const ask fit_asks[] = {
    {"force1-n", "First force on the plunger (1 kg of weight is 9.81 N).", NEEDED, NULL},
    {"time1-s", "Time it took.", NEEDED, NULL},
    {"force2-n", "Second force, two times the first or more.", NEEDED, NULL},
    {"time2-s", "Time it took.", NEEDED, NULL},
    {"volume-ml", "Paint that came out each time.", NEEDED, NULL},
    {"plunger-mm", "Inner diameter of the syringe (14.48, 10 mL).", 14.48, NULL},
    {"friction-n", "Force that moves the empty plunger (3).", 3.0, NULL},
    {"needle-bore-mm", "Bore of the needle (1.194, 16 gauge).", 1.194, NULL},
    {"needle-length-mm", "Length of the needle (25).", 25.0, NULL},
    {"yield-pa", "Yield stress, from the tilted plate (0).", 0.0, NULL},
    {"density-kg-m3", "Density (1120).", 1120.0, NULL},
};
static const tell fit_tells[] = {
    {"consistency_pa_sn", "Consistency, Pa s^n", NULL, false},
    {"index", "Flow index", NULL, false},
};
static vug_status fit(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    vug_fluid known = *fluid;
    double area = 3.14159265358979 / 4.0 * in[5] * in[5] * 1e-6;
    const double pressure[2] = {(in[0] - in[6]) / area, (in[2] - in[6]) / area};
    const double flow[2] = {in[4] * 1000.0 / in[1], in[4] * 1000.0 / in[3]};
    known.yield_stress_pa = in[9];
    known.density_kg_m3 = in[10];
    vug_status status = vug_fluid_fit(ctx, &known, in[7], in[8], pressure, flow, 2, &known, NULL);
    out[0] = known.consistency_pa_sn;
    out[1] = known.flow_index;
    return status;
}

const question flow_questions[] = {
    {"tube",
        "Flow through a long tube from the pressure, or the reverse. Without end "
        "losses; for a hole in a wall ask 'bore'.",
        tube_asks, COUNT(tube_asks), tube_tells, COUNT(tube_tells), tube, true, NULL, {2, 3}},
    {"slot", "Flow through a flat slot from the pressure, or the reverse.", slot_asks,
        COUNT(slot_asks), tube_tells, COUNT(tube_tells), slot, true, NULL, {3, 4}},
    {"bore", "Flow through a hole in a wall, ends included, or the reverse.", bore_asks,
        COUNT(bore_asks), tube_tells, COUNT(tube_tells), bore, true, NULL, {2, 3}},
    {"empty", "Time to drain a vessel through a hole, air coming in freely above.", empty_asks,
        COUNT(empty_asks), empty_tells, COUNT(empty_tells), empty, true, NULL, {0, 0}},
    {"exchange", "Width from which a lone hole lets air in while liquid goes out.", exchange_asks,
        COUNT(exchange_asks), exchange_tells, COUNT(exchange_tells), exchange, true, NULL, {0, 0}},
    {"meniscus", "How far liquid climbs into a hole, and what the hole holds.", meniscus_asks,
        COUNT(meniscus_asks), meniscus_tells, COUNT(meniscus_tells), meniscus, true, NULL, {0, 0}},
    {"bubble", "Whether and how fast a bubble rises.", bubble_asks, COUNT(bubble_asks),
        bubble_tells, COUNT(bubble_tells), bubble, true, NULL, {0, 0}},
    {"fluid", "The numbers of a preset liquid, as ranges.", NULL, 0, fluid_tells,
        COUNT(fluid_tells), liquid, true, NULL, {0, 0}},
    {"yield",
        "A paint's yield stress from a tilted plate. Draw a layer of even thickness on a "
        "flat plate, tilt it slowly, read the slope at which the layer begins to creep.",
        yield_asks, COUNT(yield_asks), yield_tells, COUNT(yield_tells), yield, false, NULL, {0, 0}},
    {"fit",
        "A paint's consistency and index from a timed syringe. Stand a weight on the plunger, "
        "time a volume through a needle, repeat with twice the weight or more.",
        fit_asks, COUNT(fit_asks), fit_tells, COUNT(fit_tells), fit, false, NULL, {0, 0}},
};
const size_t flow_question_count = COUNT(flow_questions);
