/* SPDX-License-Identifier: MIT
 * Questions at the bench: holes to drill, syringes, supplies, rinsing, plugs, warmth, drying. */
#include "bench.h"

#define COUNT(list) (sizeof list / sizeof list[0])

static const double mm3_per_ml = 1000.0;

/* ---- the hole to drill -------------------------------------------------------------- */

static const char *const drill_words[] = {"stock", "tenths", "halves", NULL};
static const char *const exchange_words[] = {"no", "free", "pinned", NULL};
static const char *const condition_words[] = {"inject", "needle", "air", "drain", "exchange",
    "suction", NULL};

static const ask hole_asks[] = {
    {"wall-mm", "Length of the hole (2).", 2.0, NULL},
    {"inject-mm3-s", "Liquid to press through the hole itself, by a syringe's nozzle.", 0.0, NULL},
    {"thumb-force-n", "Thumb force for that, less friction (30).", 30.0, NULL},
    {"plunger-mm", "Inner diameter of the syringe (14.48, 10 mL).", 14.48, NULL},
    {"needle-mm", "Outer diameter of a needle that must go through.", 0.0, NULL},
    {"needle-gap-mm", "Free of the diameter beside it, for air (0.4).", 0.4, NULL},
    {"air-mm3-s", "Air that must leave through it: the injection rate.", 0.0, NULL},
    {"air-pressure-pa", "Pressure for that, film of liquid in the hole included (500).", 500.0,
        NULL},
    {"drain-s", "Time to drain in.", 0.0, NULL},
    {"drain-area-mm2", "Cross-section to drain (1000).", 1000.0, NULL},
    {"drain-from-mm", "Level at first (50).", 50.0, NULL},
    {"drain-to-mm", "Level at the end (1).", 1.0, NULL},
    {"exchange",
        "Shall air come in where liquid goes out? no, free (line of contact free) or "
        "pinned (held by a sharp rim: sure).",
        0.0, exchange_words},
    {"lift-area-mm2", "Area of a closed cup on the film while printing: resin of the vat comes in.",
        0.0, NULL},
    {"lift-mm-s", "Lift speed (1).", 1.0, NULL},
    {"suction-pa", "Suction that the film may bear (2000).", 2000.0, NULL},
    {"hold-head-mm", "Head that capillarity shall hold while you plug the hole.", 0.0, NULL},
    {"drills", "Drills at hand: stock, tenths or halves.", 0.0, drill_words},
    {"vat-kg-m3", "Density of the resin in the vat, for the cup (1100).", 1100.0, NULL},
    {"vat-pa-s", "Its viscosity (0.2).", 0.2, NULL},
};
static const tell hole_tells[] = {
    {"drill_mm", "Drill, mm", NULL, false},
    {"condition", "What decides", condition_words, true},
    {"least_mm", "Least diameter, mm", NULL, false},
    {"margin", "Margin of the drill over it", NULL, false},
    {"inject_mm", "Least to inject, mm", NULL, false},
    {"needle_mm", "Least for the needle, mm", NULL, false},
    {"air_mm", "Least for the air, mm", NULL, false},
    {"drain_mm", "Least to drain, mm", NULL, false},
    {"exchange_mm", "Least for air to come in, mm", NULL, false},
    {"suction_mm", "Least against suction, mm", NULL, false},
    {"vat_kg_m3", "For that, resin in the vat, kg/m3", NULL, false},
    {"vat_pa_s", "And its viscosity, Pa s", NULL, false},
    {"hold_mm", "Widest that holds the head, mm", NULL, false},
};

/* A whole number that fits; what is not one is refused by the sum. */
static int32_t whole(double value)
{
    return value >= 0.0 && value <= 1e9 && value == floor(value) ? (int32_t)value : -1;
}

static double asked(double diameter)
{
    return diameter > 0.0 ? diameter : (double)NAN;
}

static vug_status hole(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    vug_hole_task task;
    vug_hole_choice choice = {.struct_size = sizeof choice};
    vug_hole_task_init(&task, sizeof task);
    task.wall_mm = in[0];
    task.inject_mm3_s = in[1];
    task.thumb_force_n = in[2];
    task.plunger_mm = in[3];
    task.needle_mm = in[4];
    task.needle_gap_mm = in[5];
    task.air_mm3_s = in[6];
    task.air_pressure_pa = in[7];
    task.drain_s = in[8];
    task.drain_area_mm2 = in[9];
    task.drain_from_mm = in[10];
    task.drain_to_mm = in[11];
    task.exchange = (int32_t)in[12];
    task.lift_area_mm2 = in[13];
    task.lift_mm_s = in[14];
    task.suction_pa = in[15];
    task.hold_head_mm = in[16];
    task.drills = (int32_t)in[17];
    task.vat_kg_m3 = in[18];
    task.vat_pa_s = in[19];
    vug_status status = vug_hole_choose(ctx, fluid, &task, &choice);
    if (status)
        return status;
    const bool cup = task.lift_area_mm2 > 0.0;
    const double told[] = {choice.drill_mm, choice.decides, choice.least_mm, choice.margin,
        asked(choice.inject_mm), asked(choice.needle_mm), asked(choice.air_mm),
        asked(choice.drain_mm), asked(choice.exchange_mm), asked(choice.suction_mm),
        cup ? task.vat_kg_m3 : (double)NAN, cup ? task.vat_pa_s : (double)NAN,
        task.hold_head_mm > 0.0 ? choice.hold_mm : (double)NAN};
    for (size_t i = 0; i < COUNT(told); i++)
        out[i] = told[i];
    return VUG_OK;
}

/* ---- the syringe --------------------------------------------------------------------- */

static const double thumb_n = 100.0; /* the most that a thumb pushes (from memory) */
static const char *const reach_words[] = {"within reach",
    "out of reach of a thumb (100 N): a smaller syringe, a wider or shorter needle, a thinner "
    "liquid",
    "out of reach of a syringe (2 MPa): a wider or shorter needle, a thinner liquid, less flow",
    NULL};

static double reach(double force_n, double pressure_pa)
{
    return pressure_pa > SYRINGE_PA ? 2.0 : force_n > thumb_n ? 1.0 : 0.0;
}

static const ask inject_asks[] = {
    {"flow-mm3-s", "Flow wanted; or give the force.", ABSENT, NULL},
    {"thumb-force-n", "Force of the thumb; or give the flow.", ABSENT, NULL},
    {"syringe-ml", "Size of the syringe (10).", 10.0, NULL},
    {"gauge", "Gauge of the needle (16).", 16.0, NULL},
    {"needle-bore-mm", "Bore of the needle, in place of the gauge's.", ABSENT, NULL},
    {"needle-length-mm", "Length of the needle (25).", 25.0, NULL},
    {"friction-n", "Friction of the plunger (3).", 3.0, NULL},
    {"back-pressure-pa", "Pressure inside the part (0).", 0.0, NULL},
};
static const tell inject_tells[] = {
    {"flow_mm3_s", "Flow, mm3/s", NULL, false},
    {"pressure_pa", "Pressure in the syringe, Pa", NULL, false},
    {"thumb_force_n", "Thumb force, N", NULL, false},
    {"load_time_s", "Time for a load, s", NULL, false},
    {"jet_speed_mm_s", "Speed in the needle, mm/s", NULL, false},
    {"reynolds", "Reynolds number in the needle", NULL, false},
    {"needle_outer_mm", "Needle's outer diameter, mm", NULL, false},
    {"by_hand", "By hand", reach_words, true},
};
static vug_status inject(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    vug_injection injection;
    vug_injected injected = {.struct_size = sizeof injected};
    vug_syringe syringe = {.struct_size = sizeof syringe};
    vug_needle needle = {.struct_size = sizeof needle};
    vug_injection_init(&injection, sizeof injection);
    vug_status status = vug_syringe_by_size(ctx, in[2], &syringe);
    if (!status && isnan(in[4]))
        status = vug_needle_by_gauge(ctx, whole(in[3]), &needle);
    if (status)
        return status;
    injection.plunger_mm = syringe.plunger_mm;
    injection.load_ml = syringe.nominal_ml;
    injection.needle_bore_mm = isnan(in[4]) ? needle.bore_mm : in[4];
    injection.needle_length_mm = in[5];
    injection.friction_n = in[6];
    injection.back_pressure_pa = in[7];
    if (isnan(in[1]))
        status = vug_inject(ctx, fluid, &injection, in[0], 0.0, &injected);
    else
        status = vug_inject(ctx, fluid, &injection, 0.0, in[1], &injected);
    out[0] = injected.flow_mm3_s;
    out[1] = injected.pressure_pa;
    out[2] = injected.thumb_force_n;
    out[3] = injected.load_time_s;
    out[4] = injected.jet_speed_mm_s;
    out[5] = injected.reynolds;
    out[6] = isnan(in[4]) ? needle.outer_mm : (double)NAN;
    out[7] = reach(injected.thumb_force_n, injected.pressure_pa);
    return status;
}

static const ask supplies_asks[] = {
    {"volume-ml", "Volume to fill.", NEEDED, NULL},
    {"syringe-ml", "Size of the syringe (10).", 10.0, NULL},
    {"loss-fraction", "Share lost in cups and drips (0.1).", 0.1, NULL},
    {"price-per-l", "Price of a litre (0).", 0.0, NULL},
};
static const tell supplies_tells[] = {
    {"loads", "Syringe loads", NULL, true},
    {"loads_low", "At least, by the syringe's tolerance", NULL, true},
    {"loads_high", "At most", NULL, true},
    {"last_load_ml", "In the last one, mL", NULL, false},
    {"load_tolerance_ml", "A full load is right to, mL", NULL, false},
    {"paint_ml", "Paint to prepare, mL", NULL, false},
    {"cost", "Cost", NULL, false},
};
static vug_status supplies(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    vug_supply supply = {.struct_size = sizeof supply};
    vug_status status = vug_supply_for(ctx, in[0] * mm3_per_ml, in[1], in[2], in[3], &supply);
    out[0] = (double)supply.loads;
    out[1] = (double)supply.loads_low;
    out[2] = (double)supply.loads_high;
    out[3] = supply.last_load_ml;
    out[4] = supply.load_tolerance_ml;
    out[5] = supply.paint_ml;
    out[6] = in[3] > 0.0 ? supply.cost : (double)NAN;
    return status;
}

/* ---- rinsing ---------------------------------------------------------------------------- */

static const ask rinse_asks[] = {
    {"cavity-ml", "Volume of the cavity.", NEEDED, NULL},
    {"residue-ml", "What stays in it after draining.", NEEDED, NULL},
    {"target-fraction", "Share of the resin that may stay (0.001).", 0.001, NULL},
    {"mixing",
        "Share of the residue that meets the solvent, or of a stream that mixes: 1 well shaken.",
        1.0, NULL},
    {"cycles", "Number of rinses, to learn the least solvent for them.", ABSENT, NULL},
};
static const tell rinse_tells[] = {
    {"soak_cycles", "Fill, shake and drain, times", NULL, true},
    {"soak_ml", "Solvent for that, mL", NULL, false},
    {"soak_reached", "Share left then", NULL, false},
    {"flush_ml", "Solvent to run through the full cavity instead, mL", NULL, false},
    {"least_ml", "Least of all, by very many very small rinses, mL", NULL, false},
    {"each_ml", "Least for each of the rinses asked, mL", NULL, false},
};
static vug_status rinse(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    vug_rinse told = {.struct_size = sizeof told};
    vug_status status = vug_rinse_compare(ctx, in[0] * mm3_per_ml, in[1] * mm3_per_ml, in[3], in[2],
        &told);
    if (!status && !isnan(in[4]))
        status = vug_rinse_solvent(ctx, in[1] * mm3_per_ml, in[3], in[2], whole(in[4]), &out[5]);
    out[0] = told.soak_cycles;
    out[1] = told.soak_mm3 / mm3_per_ml;
    out[2] = told.soak_reached;
    out[3] = told.flush_mm3 / mm3_per_ml;
    out[4] = told.least_mm3 / mm3_per_ml;
    out[5] /= mm3_per_ml;
    return status;
}

static const ask soak_asks[] = {
    {"depth-mm", "Depth of the blind tip that no stream reaches.", NEEDED, NULL},
    {"diffusivity-m2-s", "Diffusivity of resin in the solvent (1e-9, from memory).", 1e-9, NULL},
    {"left-fraction", "Share that may stay (0.01).", 0.01, NULL},
};
static const tell soak_tells[] = {{"time_s", "Time by diffusion alone, s", NULL, false}};
static vug_status soak(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    return vug_soak_time(ctx, in[0], in[1], in[2], &out[0]);
}

/* ---- sealing ----------------------------------------------------------------------------- */

static const ask plug_asks[] = {
    {"hole-diameter-mm", "Diameter of the hole.", NEEDED, NULL},
    {"depth-mm", "Depth of the plug.", NEEDED, NULL},
    {"head-mm", "Liquid that stands above it (0).", 0.0, NULL},
    {"pressure-pa", "Pressure inside besides, such as from warmth (0).", 0.0, NULL},
};
static const tell plug_tells[] = {
    {"plug_mm3", "Plug, mm3", NULL, false},
    {"pressure_pa", "Pressure on it, Pa", NULL, false},
    {"shear_pa", "Shear in the glue around it, Pa", NULL, false},
};
static vug_status plug(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    vug_status status = vug_head_pressure(ctx, fluid, in[2], &out[1]);
    out[1] += in[3];
    return status ? status : vug_plug(ctx, in[0], in[1], out[1], &out[0], &out[2]);
}

static const char *const content_words[] = {"water", "plain", NULL};
static const char *const vent_words[] = {"not needed if that air is left",
    "needed: no air is enough, for the air itself warms and gets damp", NULL};
static const char *const shape_words[] = {"sphere", "cylinder", NULL};
static const ask seal_asks[] = {
    {"warm-k", "It warms by (negative: cools).", NEEDED, NULL},
    {"inner-radius-mm", "Inner radius of the part, as a round shell (18).", 18.0, NULL},
    {"wall-mm", "Wall (2).", 2.0, NULL},
    {"shape", "sphere or cylinder.", 0.0, shape_words},
    {"modulus-pa", "Young's modulus of the plastic (2e9).", 2e9, NULL},
    {"poisson", "Its Poisson ratio (0.35).", 0.35, NULL},
    {"plastic-low-per-k", "Its linear expansion, low (70e-6).", 70e-6, NULL},
    {"plastic-high-per-k", "And high (110e-6).", 110e-6, NULL},
    {"liquid-per-k", "Volume expansion of plain content (2.57e-4).", 2.57e-4, NULL},
    {"liquid-per-pa", "Its compressibility (4.52e-10, water).", 4.52e-10, NULL},
    {"air-fraction", "Share of air sealed in (0).", 0.0, NULL},
    {"sealed-at-c", "Temperature when sealed (20).", 20.0, NULL},
    {"allowed-pa", "Pressure allowed, to learn the air to leave (20000).", 20000.0, NULL},
    {"content",
        "water, or what is mostly water: its measured density from 0 to 100 C, and its vapour; or "
        "plain: expands evenly, no vapour.",
        0.0, content_words},
};
static const char *const sealed_words[] = {"water, or what is mostly water",
    "plain: expands evenly, no vapour", NULL};
static const tell seal_tells[] = {
    {"content", "Content", sealed_words, true},
    {"low_pa", "Pressure inside, low bound, Pa", NULL, false},
    {"high_pa", "High bound, Pa", NULL, false},
    {"stress_pa", "Tension in the wall at the high bound, Pa", NULL, false},
    {"air_fraction", "Air to leave to stay below what is allowed, share", NULL, false},
    {"vent", "A vent", vent_words, true},
};
static vug_status seal(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    vug_shell shell;
    vug_sealed sealed;
    vug_shell_init(&shell, sizeof shell);
    vug_sealed_init(&sealed, sizeof sealed);
    shell.inner_radius_mm = in[1];
    shell.wall_mm = in[2];
    shell.shape = (int32_t)in[3];
    shell.modulus_pa = in[4];
    shell.poisson = in[5];
    shell.expansion_low_per_k = in[6];
    shell.expansion_high_per_k = in[7];
    sealed.liquid_expansion_per_k = in[8];
    sealed.liquid_compressibility_per_pa = in[9];
    sealed.air_fraction = in[10];
    sealed.sealed_at_c = in[11];
    sealed.content = (int32_t)in[13];
    out[0] = in[13];
    vug_status status = vug_sealed_pressure(ctx, &shell, &sealed, in[0], &out[1], &out[2]);
    if (!status)
        status = vug_shell_under(ctx, &shell, out[2], NULL, &out[3]);
    if (status)
        return status;
    status = vug_sealed_air(NULL, &shell, &sealed, in[0], in[12], &out[4]);
    out[5] = status == VUG_ERR_DOMAIN && in[12] >= 1.0;
    return out[5] == 1.0 ? VUG_OK : vug_sealed_air(ctx, &shell, &sealed, in[0], in[12], &out[4]);
}

static const ask ice_asks[] = {
    {"water-fraction", "Share of water in the liquid (1).", 1.0, NULL},
    {"temperature-c", "Temperature when filled (20).", 20.0, NULL},
    {"allowed-pa", "Pressure over the outside that the part bears.", NEEDED, NULL},
    {"coldest-c", "The coldest that it gets (-18, a freezer).", -18.0, NULL},
    {"plastic-high-per-k", "Linear expansion of the plastic, high, by which it shrinks (110e-6).",
        110e-6, NULL},
};
static const tell ice_tells[] = {
    {"air_fraction", "Air to leave, share of the cavity", NULL, false},
};
static vug_status ice(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    vug_shell shell;
    vug_shell_init(&shell, sizeof shell);
    shell.expansion_high_per_k = in[4];
    shell.expansion_low_per_k = fmin(shell.expansion_low_per_k, in[4]);
    return vug_ice_air(ctx, &shell, in[0], in[1], in[3], in[2], &out[0]);
}

/* ---- drying -------------------------------------------------------------------------------- */

static const ask dry_asks[] = {
    {"solids-fraction", "Share of the paint that stays when dry, by volume.", NEEDED, NULL},
    {"void-fraction", "Share of the cavity that may stay empty (0.05).", 0.05, NULL},
    {"volume-ml", "Volume of the cavity, for the time.", ABSENT, NULL},
    {"hole-diameter-mm", "The open hole it dries through (3).", 3.0, NULL},
    {"hole-length-mm", "Its length (2).", 2.0, NULL},
    {"temperature-c", "Room (20).", 20.0, NULL},
    {"humidity", "Of the room, 0 .. 0.99 (0.5).", 0.5, NULL},
};
static const tell dry_tells[] = {
    {"fills", "Fill, dry, and fill again, times", NULL, true},
    {"first_time_s", "The first fill dries in no less than, s", NULL, false},
};
static vug_status dry(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    int32_t fills = 0;
    vug_status status = vug_drying_fills(ctx, in[0], in[1], &fills);
    out[0] = fills;
    if (status || isnan(in[2]))
        return status;
    return vug_drying_time(ctx, in[2] * mm3_per_ml * (1.0 - in[0]), in[3], in[4], in[5], in[6],
        &out[1]);
}

static const char *const solvent_caution =
    "Solvent vapour burns and uncured resin irritates: "
    "gloves, fresh air, no flame; follow the data sheets and local rules for waste.";
static const char *const
    sealed_caution = "A sealed, full part can leak or burst when it warms or "
                     "freezes: leave air or a vent, and test one away from people. The "
                     "figures are for a smooth round shell; corners bear several times less.";
static const char *const drill_caution =
    "Where the drill is a range, take its high end. Drill "
    "slowly, away from your hand, with eyes covered; resin dust irritates: wear a mask.";
static const char *const glue_caution = "Glue fumes irritate: fresh air, eyes covered; follow the "
                                        "data sheet.";

const question bench_questions[] = {
    {"hole",
        "The hole to drill, next drill at hand, and what decides. Give at least one thing "
        "that it must do.",
        hole_asks, COUNT(hole_asks), hole_tells, COUNT(hole_tells), hole, true, drill_caution,
        {0, 0}},
    {"inject", "Pressure, thumb force and time of a syringe with its needle.", inject_asks,
        COUNT(inject_asks), inject_tells, COUNT(inject_tells), inject, true, NULL, {0, 1}},
    {"supplies", "Syringe loads, paint and cost for a volume.", supplies_asks, COUNT(supplies_asks),
        supplies_tells, COUNT(supplies_tells), supplies, false, NULL, {0, 0}},
    {"rinse", "Rinses and solvent, soaking against flushing.", rinse_asks, COUNT(rinse_asks),
        rinse_tells, COUNT(rinse_tells), rinse, false, solvent_caution, {0, 0}},
    {"soak", "Time for a blind tip to clear by diffusion.", soak_asks, COUNT(soak_asks), soak_tells,
        COUNT(soak_tells), soak, false, solvent_caution, {0, 0}},
    {"plug", "A plug's volume, the pressure on it, the shear in its glue.", plug_asks,
        COUNT(plug_asks), plug_tells, COUNT(plug_tells), plug, true, glue_caution, {0, 0}},
    {"seal", "Pressure in a sealed part that warms, and the air to leave.", seal_asks,
        COUNT(seal_asks), seal_tells, COUNT(seal_tells), seal, false, sealed_caution, {0, 0}},
    {"ice", "Air to leave so that ice presses no more than the part bears.", ice_asks,
        COUNT(ice_asks), ice_tells, COUNT(ice_tells), ice, false, sealed_caution, {0, 0}},
    {"dry", "How often to top up paint that shrinks as it dries.", dry_asks, COUNT(dry_asks),
        dry_tells, COUNT(dry_tells), dry, false, NULL, {0, 0}},
};
const size_t bench_question_count = COUNT(bench_questions);
