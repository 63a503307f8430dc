/* SPDX-License-Identifier: MIT
 * Fuzz target: any bytes as the numbers of the sums: tubes, holes, drops, bubbles, rinsing, sealing, light.
 * What succeeds gives numbers that are finite, what fails says why and leaves the result alone. */
#include "../jobs.h"
#include "fuzz.h"

#include <string.h>

const char *const fuzz_kept[] = {"fuzz/corpus/sums", NULL};
const unsigned fuzz_rounds = 200;

enum { COUNT = 3 };

typedef struct asking {
    vug_context *ctx;
    const uint8_t *data;
    size_t size;
    vug_fluid fluid;
    double list[COUNT];
} asking;

static uint8_t next(asking *a)
{
    if (a->size == 0)
        return 0;
    a->size--;
    return *a->data++;
}

/* Mostly what a person could mean, from 1e-4 to 1e4; now and then anything. */
static double number(asking *a)
{
    static const double odd[] = {0.0, -1.0, NAN, INFINITY, -INFINITY, 1e-310, 1e300, 1e-12, -0.0,
        1.0, 90.0, 1e16, -1e300, 1e-160, 1e150, 0.5};
    uint8_t kind = next(a), low = next(a);
    if (kind < 24)
        return odd[low % (sizeof odd / sizeof *odd)];
    if (kind < 40) {
        double x;
        uint8_t raw[sizeof x];
        for (size_t i = 0; i < sizeof raw; i++)
            raw[i] = next(a);
        memcpy(&x, raw, sizeof x);
        return x;
    }
    return (1.0 + low / 64.0) * pow(10.0, kind % 9 - 4.0);
}

static int32_t whole(asking *a)
{
    uint8_t kind = next(a);
    return kind < 16 ? (int32_t)((uint32_t)next(a) << 24) : kind % 24 - 2;
}

/* ---- what comes out ------------------------------------------------------------------ */

static const double UNTOUCHED = 12345.0;

static void one(const asking *a, vug_status status, double out)
{
    job_must(status == VUG_OK ? isfinite(out) : out == UNTOUCHED);
    job_must(status == VUG_OK || vug_context_message(a->ctx)[0] != 0);
}

static void two(const asking *a, vug_status status, double left, double right)
{
    one(a, status, left);
    one(a, status, right);
}

static void row(const asking *a, vug_status status, double *out)
{
    for (int i = 0; i < COUNT; i++) {
        one(a, status, out[i]);
        out[i] = UNTOUCHED;
    }
}

/* ASK(call, x): the call writes x. */
#define ASK(call, x) (x = UNTOUCHED, one(a, call, x))

/* ---- the sums -------------------------------------------------------------------------- */

static void ask_tubes(asking *a)
{
    const vug_fluid *f = &a->fluid;
    const double r = number(a), w = number(a), l = number(a), *list = a->list;
    double x, out[COUNT] = {UNTOUCHED, UNTOUCHED, UNTOUCHED};
    row(a, vug_tube_flow(a->ctx, f, r, l, list, COUNT, out), out);
    row(a, vug_tube_pressure(a->ctx, f, r, l, list, COUNT, out), out);
    row(a, vug_slot_flow(a->ctx, f, r, w, l, list, COUNT, out), out);
    row(a, vug_slot_pressure(a->ctx, f, r, w, l, list, COUNT, out), out);
    row(a, vug_hole_flow(a->ctx, f, r, l, list, COUNT, out), out);
    row(a, vug_hole_pressure(a->ctx, f, r, l, list, COUNT, out), out);
    row(a, vug_hole_flow_immersed(a->ctx, f, r, l, list, COUNT, out), out);
    row(a, vug_hole_pressure_immersed(a->ctx, f, r, l, list, COUNT, out), out);
    ASK(vug_tube_start_pressure(a->ctx, f, r, l, &x), x);
    ASK(vug_hole_start_pressure(a->ctx, f, r, l, &x), x);
    ASK(vug_head_pressure(a->ctx, f, l, &x), x);
}

static void ask_drops(asking *a)
{
    const vug_fluid *f = &a->fluid;
    const double mm = number(a), deg = number(a), s = number(a);
    double x = UNTOUCHED, y = UNTOUCHED, out[COUNT] = {UNTOUCHED, UNTOUCHED, UNTOUCHED};
    two(a, vug_exchange_diameter(a->ctx, f, &x, &y), x, y);
    x = y = UNTOUCHED;
    vug_status held = vug_bubble_held(a->ctx, f, &x, &y);
    job_must(held ? x == UNTOUCHED && y == UNTOUCHED : !isnan(x) && !isnan(y));
    row(a, vug_bubble_tube_speed(a->ctx, f, a->list, COUNT, out), out);
    row(a, vug_bubble_open_speed(a->ctx, f, whole(a), a->list, COUNT, out), out);
    vug_interval speed = {.struct_size = sizeof speed, .typical = UNTOUCHED};
    one(a, vug_bubble_tube_range(a->ctx, f, f, f, mm, &speed), speed.typical);
    ASK(vug_capillary_length(a->ctx, f, &x), x);
    ASK(vug_capillary_rise(a->ctx, f, mm, &x), x);
    ASK(vug_capillary_pressure(a->ctx, f, mm, &x), x);
    ASK(vug_capillary_hold_head(a->ctx, f, mm, &x), x);
    ASK(vug_capillary_hold_diameter(a->ctx, f, mm, &x), x);
    ASK(vug_exchange_flow(a->ctx, f, mm, &x), x);
    ASK(vug_film_hang(a->ctx, f, deg, mm, s, &x), x);
    ASK(vug_yield_from_slope(a->ctx, f->density_kg_m3, mm, deg, &x), x);
}

static void ask_holes(asking *a)
{
    double x;
    vug_hole_task task;
    vug_hole_choice choice = {.struct_size = sizeof choice, .least_mm = UNTOUCHED};
    vug_interval least = {.struct_size = sizeof least, .typical = UNTOUCHED};
    vug_hole_task_init(&task, sizeof task);
    double *asked[] = {&task.wall_mm, &task.inject_mm3_s, &task.thumb_force_n, &task.plunger_mm,
        &task.needle_mm, &task.needle_gap_mm, &task.air_mm3_s, &task.air_pressure_pa, &task.drain_s,
        &task.drain_area_mm2, &task.drain_from_mm, &task.drain_to_mm, &task.lift_area_mm2,
        &task.lift_mm_s, &task.suction_pa, &task.hold_head_mm, &task.vat_kg_m3, &task.vat_pa_s};
    for (int i = next(a) % 6; i > 0; i--)
        *asked[next(a) % (sizeof asked / sizeof *asked)] = number(a);
    task.exchange = next(a) % 2;
    one(a, vug_hole_choose(a->ctx, &a->fluid, &task, &choice), choice.least_mm);
    one(a, vug_hole_choose_range(a->ctx, &a->fluid, &a->fluid, &a->fluid, &task, &least, &choice),
        least.typical);
    ASK(vug_drill_next(a->ctx, whole(a), whole(a), number(a), &x), x);
    double level[COUNT] = {number(a), number(a), number(a)}, drain;
    ASK(vug_drain_time(a->ctx, &a->fluid, number(a), number(a), level, a->list, COUNT, &drain),
        drain);
}

static void ask_syringe(asking *a)
{
    double x;
    vug_needle needle = {.struct_size = sizeof needle, .outer_mm = UNTOUCHED};
    vug_syringe syringe = {.struct_size = sizeof syringe, .plunger_mm = UNTOUCHED};
    vug_supply supply = {.struct_size = sizeof supply, .paint_ml = UNTOUCHED};
    vug_injected injected = {.struct_size = sizeof injected, .pressure_pa = UNTOUCHED};
    vug_injection injection;
    vug_fluid fluid = {.struct_size = sizeof fluid, .consistency_pa_sn = UNTOUCHED};
    vug_injection_init(&injection, sizeof injection);
    double *given[] = {&injection.needle_bore_mm, &injection.needle_length_mm,
        &injection.plunger_mm, &injection.friction_n, &injection.back_pressure_pa,
        &injection.load_ml};
    for (int i = next(a) % 4; i > 0; i--)
        *given[next(a) % (sizeof given / sizeof *given)] = number(a);
    one(a, vug_inject(a->ctx, &a->fluid, &injection, number(a), number(a), &injected),
        injected.pressure_pa);
    one(a, vug_needle_by_gauge(a->ctx, whole(a), &needle), needle.outer_mm);
    needle.outer_mm = UNTOUCHED;
    one(a, vug_needle_through(a->ctx, number(a), number(a), &needle), needle.outer_mm);
    one(a, vug_syringe_by_size(a->ctx, number(a), &syringe), syringe.plunger_mm);
    ASK(vug_syringe_tolerance(a->ctx, number(a), number(a), &x), x);
    one(a, vug_supply_for(a->ctx, number(a), number(a), number(a), number(a), &supply),
        supply.paint_ml);
    double flow[COUNT] = {number(a), number(a), number(a)}, misfit = UNTOUCHED;
    one(a,
        vug_fluid_fit(a->ctx, &a->fluid, number(a), number(a), a->list, flow, COUNT, &fluid,
            &misfit),
        misfit);
    vug_fluid preset = {.struct_size = sizeof preset, .density_kg_m3 = UNTOUCHED};
    one(a, vug_fluid_preset(a->ctx, whole(a), whole(a), number(a), &preset), preset.density_kg_m3);
    (void)vug_fluid_preset_name(whole(a));
    (void)vug_fluid_preset_source(whole(a));
}

static void ask_seal(asking *a)
{
    double x = UNTOUCHED, y = UNTOUCHED;
    vug_shell shell;
    vug_sealed sealed;
    vug_rinse rinse = {.struct_size = sizeof rinse, .soak_mm3 = UNTOUCHED};
    int32_t fills = 12345;
    vug_shell_init(&shell, sizeof shell);
    vug_sealed_init(&sealed, sizeof sealed);
    double *given[] = {&shell.inner_radius_mm, &shell.wall_mm, &shell.modulus_pa, &shell.poisson,
        &shell.expansion_low_per_k, &shell.expansion_high_per_k, &sealed.liquid_expansion_per_k,
        &sealed.liquid_compressibility_per_pa, &sealed.air_fraction, &sealed.sealed_at_c};
    for (int i = next(a) % 5; i > 0; i--)
        *given[next(a) % (sizeof given / sizeof *given)] = number(a);
    shell.shape = next(a) % 4;
    sealed.content = next(a) % 4;
    two(a, vug_shell_under(a->ctx, &shell, number(a), &x, &y), x, y);
    x = y = UNTOUCHED;
    two(a, vug_sealed_pressure(a->ctx, &shell, &sealed, number(a), &x, &y), x, y);
    ASK(vug_sealed_air(a->ctx, &shell, &sealed, number(a), number(a), &x), x);
    ASK(vug_ice_air(a->ctx, &shell, number(a), number(a), number(a), number(a), &x), x);
    ASK(vug_rinse_solvent(a->ctx, number(a), number(a), number(a), whole(a), &x), x);
    one(a, vug_rinse_compare(a->ctx, number(a), number(a), number(a), number(a), &rinse),
        rinse.soak_mm3);
    ASK(vug_soak_time(a->ctx, number(a), number(a), number(a), &x), x);
    ASK(vug_drying_time(a->ctx, number(a), number(a), number(a), number(a), number(a), &x), x);
    job_must(
        (vug_drying_fills(a->ctx, number(a), number(a), &fills) == VUG_OK) == (fills != 12345));
    x = y = UNTOUCHED;
    two(a, vug_plug(a->ctx, number(a), number(a), number(a), &x, &y), x, y);
}

static void ask_light(asking *a)
{
    const double k = number(a), s = number(a);
    double x = UNTOUCHED, y = UNTOUCHED, z = UNTOUCHED,
           out[COUNT] = {UNTOUCHED, UNTOUCHED, UNTOUCHED};
    vug_cure_inside inside;
    vug_relief relief;
    vug_coat coat = {.struct_size = sizeof coat, .wet_mm = UNTOUCHED};
    row(a, vug_cure_depth(a->ctx, k, s, a->list, COUNT, out), out);
    row(a, vug_cure_dose(a->ctx, k, s, a->list, COUNT, out), out);
    row(a, vug_wall_transmission(a->ctx, k, s, a->list, COUNT, out), out);
    row(a, vug_film_reflectance(a->ctx, k, s, number(a), a->list, COUNT, out), out);
    row(a, vug_film_transmittance(a->ctx, k, s, a->list, COUNT, out), out);
    row(a, vug_film_contrast(a->ctx, k, s, a->list, COUNT, out), out);
    double depth[COUNT] = {number(a), number(a), number(a)};
    two(a, vug_cure_fit(a->ctx, a->list, depth, COUNT, &x, &y), x, y);
    ASK(vug_film_hiding(a->ctx, k, s, number(a), &x), x);
    ASK(vug_film_blocking(a->ctx, k, s, number(a), &x), x);
    vug_cure_inside_init(&inside, sizeof inside);
    vug_relief_init(&relief, sizeof relief);
    double *given[] = {&inside.lamp_mw_cm2, &inside.wall_mm, &inside.penetration_mm,
        &inside.opening_mm, &inside.distance_mm, &inside.needed_mj_cm2, &relief.height_mm,
        &relief.width_mm, &relief.absorption_per_mm, &relief.scattering_per_mm,
        &relief.core_reflectance, &relief.threshold};
    for (int i = next(a) % 5; i > 0; i--)
        *given[next(a) % (sizeof given / sizeof *given)] = number(a);
    x = y = UNTOUCHED;
    vug_status through = vug_cure_through(a->ctx, &inside, &x, &y, &z);
    two(a, through, x, y);
    one(a, through, z);
    row(a, vug_relief_contrast(a->ctx, &relief, a->list, COUNT, out), out);
    ASK(vug_relief_skin(a->ctx, &relief, &x), x);
    one(a, vug_coat_plan(a->ctx, number(a), number(a), number(a), number(a), number(a), &coat),
        coat.wet_mm);
}

static void ask_words(asking *a)
{
    char text[320];
    size_t length = 0, opening = 0;
    double up[3] = {number(a), number(a), number(a)}, from[3] = {number(a), number(a), number(a)},
           back[3];
    if (vug_pose_words(a->ctx, next(a) % 2 ? from : NULL, up, text, sizeof text) == VUG_OK)
        job_must(vug_pose_parse(a->ctx, text, back) == VUG_OK);
    for (; length + 1 < sizeof text && a->size > 0; length++)
        text[length] = (char)next(a);
    text[length] = '\0';
    if (vug_pose_parse(a->ctx, text, back) == VUG_OK)
        job_must(isfinite(back[0]) && isfinite(back[1]) && isfinite(back[2]));
    if (vug_opening_number(a->ctx, text, &opening) == VUG_OK)
        job_must(vug_opening_letter(a->ctx, opening, text, sizeof text) == VUG_OK);
    memset(text, 'x', sizeof text);
    if (vug_percent_words(a->ctx, number(a), number(a), text, 24) == VUG_OK)
        job_must(memchr(text, '%', 22) != NULL && text[24] == 'x');
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static void (*const asks[])(
        asking *) = {ask_tubes, ask_drops, ask_holes, ask_syringe, ask_seal, ask_light, ask_words};
    asking a = {.data = data, .size = size};
    job_must(vug_context_create(NULL, &a.ctx) == VUG_OK);
    size_t which = next(&a) % (sizeof asks / sizeof *asks);
    vug_fluid_init(&a.fluid, sizeof a.fluid);
    double *of[] = {&a.fluid.density_kg_m3, &a.fluid.surface_tension_n_m,
        &a.fluid.contact_angle_deg, &a.fluid.yield_stress_pa, &a.fluid.consistency_pa_sn,
        &a.fluid.flow_index};
    for (int i = next(&a) % 4; i > 0; i--)
        *of[next(&a) % (sizeof of / sizeof *of)] = number(&a);
    for (int i = 0; i < COUNT; i++)
        a.list[i] = number(&a);
    asks[which](&a);
    vug_context_free(a.ctx);
    return 0;
}
