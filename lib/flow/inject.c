/* SPDX-License-Identifier: MIT
 * A syringe with its needle: pressure, thumb force, time. The needle is a hole with ends. */
#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/hole.h"
#include "flow/numbers.h"

#include <math.h>

static const vug_injection defaults = {
    .struct_size = sizeof(vug_injection),
    .needle_bore_mm = 1.194,
    .needle_length_mm = 25.0,
    .plunger_mm = 14.48,
    .friction_n = 3.0,
    .back_pressure_pa = 0.0,
    .load_ml = 10.0,
};

vug_status vug_injection_init(vug_injection *injection, size_t size)
{
    return vugi_struct_init(injection, size, &defaults, sizeof defaults);
}

static vug_status read(vug_context *ctx, const char *call, const vug_fluid *fluid,
    const vug_injection *injection, vug_injection *own, vugi_orifice *needle)
{
    vug_fluid liquid;
    vug_status status = vugi_fluid_read(ctx, call, fluid, &liquid);
    *own = defaults;
    if (!status)
        status = vugi_struct_read(ctx, own, sizeof *own, injection, "vug_injection");
    if (status)
        return status;
    const vugi_limit limits[] = {
        {"needle_bore_mm", own->needle_bore_mm, 1e-3, 100.0},
        {"needle_length_mm", own->needle_length_mm, 0.0, 1e5},
        {"plunger_mm", own->plunger_mm, 0.1, 1e3},
        {"friction_n", own->friction_n, 0.0, 1e4},
        {"back_pressure_pa", own->back_pressure_pa, -1e5, 1e8},
        {"load_ml", own->load_ml, 1e-3, 1e4},
    };
    status = vugi_check(ctx, call, limits, sizeof limits / sizeof limits[0]);
    if (!status)
        *needle = vugi_orifice_make(&liquid, own->needle_bore_mm, own->needle_length_mm);
    return status;
}

static double plunger_area(const vug_injection *injection)
{
    double d = injection->plunger_mm * VUGI_MM;
    return VUGI_PI / 4.0 * d * d;
}

static vug_status give(vug_context *ctx, const char *call, const vug_injection *injection,
    const vugi_orifice *needle, double flow, double pressure, vug_injected *injected)
{
    double area = VUGI_PI * needle->radius * needle->radius;
    vug_injected own = {.struct_size = sizeof own};
    own.flow_mm3_s = flow / VUGI_MM3;
    own.pressure_pa = pressure;
    own.thumb_force_n = fmax(pressure, 0.0) * plunger_area(injection) + injection->friction_n;
    own.load_time_s = injection->load_ml * 1e-6 / flow;
    own.jet_speed_mm_s = flow / area / VUGI_MM;
    own.reynolds = vugi_orifice_reynolds(needle, flow);
    if (!isfinite(pressure) || !isfinite(own.load_time_s) || !isfinite(own.reynolds))
        return vugi_fail(ctx, VUG_ERR_DOMAIN, "%s: the result is too large for a number", call);
    return vugi_struct_write(ctx, injected, &own, sizeof own, "vug_injected");
}

/* The flow, and what presses it, that a force on the plunger gives. */
static vug_status flow_of_force(vug_context *ctx, const char *call, const vug_injection *injection,
    const vugi_orifice *needle, double thumb_force_n, double *flow, double *pressure)
{
    *pressure = (thumb_force_n - injection->friction_n) / plunger_area(injection);
    *flow = vugi_orifice_flow(needle, fmax(*pressure - injection->back_pressure_pa, 0.0));
    if (*flow > 0.0)
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_DOMAIN,
        "%s: %g N do not move it: friction takes %g N and the needle, with its back pressure, "
        "holds "
        "up to %g N more",
        call, thumb_force_n, injection->friction_n,
        (needle->start + injection->back_pressure_pa) * plunger_area(injection));
}

vug_status vug_inject(vug_context *ctx, const vug_fluid *fluid, const vug_injection *injection,
    double flow_mm3_s, double thumb_force_n, vug_injected *injected)
{
    vug_injection own;
    vugi_orifice needle;
    vug_status status = read(ctx, __func__, fluid, injection, &own, &needle);
    const vugi_limit limits[] = {
        {"flow_mm3_s", flow_mm3_s, 0.0, 1e12},
        {"thumb_force_n", thumb_force_n, 0.0, 1e5},
    };
    if (!status)
        status = vugi_check(ctx, __func__, limits, 2);
    if (status)
        return status;
    if ((flow_mm3_s > 0.0) == (thumb_force_n > 0.0))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "%s: flow_mm3_s is %g and thumb_force_n %g; give one of them, and 0 for the other",
            __func__, flow_mm3_s, thumb_force_n);
    double flow = flow_mm3_s * VUGI_MM3;
    double pressure = flow > 0.0 ? vugi_orifice_pressure(&needle, flow) + own.back_pressure_pa
                                 : 0.0;
    if (thumb_force_n > 0.0)
        status = flow_of_force(ctx, __func__, &own, &needle, thumb_force_n, &flow, &pressure);
    return status ? status : give(ctx, __func__, &own, &needle, flow, pressure, injected);
}
