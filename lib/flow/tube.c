/* SPDX-License-Identifier: MIT
 * Long tubes and slots: flow from pressure and pressure from flow, without end losses. */
#include "base/root.h"
#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/numbers.h"
#include "flow/shear.h"

#include <math.h>

/* A duct whose wall stress is pressure * stress and whose flow is scale * exp(ln_rate). */
typedef struct duct {
    vug_fluid fluid;
    double (*ln_rate)(const vug_fluid *fluid, double ln_excess);
    double stress, scale;
    double target; /* ln of flow / scale, while solving */
} duct;

static duct tube_duct(const vug_fluid *fluid, double radius_mm, double length_mm)
{
    double radius = radius_mm * VUGI_MM, length = length_mm * VUGI_MM;
    return (duct){*fluid, vugi_tube_ln_rate, radius / (2.0 * length),
        VUGI_PI * radius * radius * radius, 0.0};
}

static duct slot_duct(const vug_fluid *fluid, double gap_mm, double width_mm, double length_mm)
{
    double half = 0.5 * gap_mm * VUGI_MM, length = length_mm * VUGI_MM;
    return (duct){*fluid, vugi_slot_ln_rate, half / length, 2.0 * width_mm * VUGI_MM * half * half,
        0.0};
}

static double duct_flow_mm3_s(const void *user, double pressure_pa)
{
    const duct *d = user;
    double excess = fabs(pressure_pa) * d->stress - d->fluid.yield_stress_pa;
    if (excess <= 0.0)
        return 0.0;
    double flow = d->scale / VUGI_MM3 * exp(d->ln_rate(&d->fluid, log(excess)));
    return copysign(flow, pressure_pa);
}

static double rate_above_target(const void *user, double ln_excess)
{
    const duct *d = user;
    return d->ln_rate(&d->fluid, ln_excess) - d->target;
}

static double duct_pressure_pa(const void *user, double flow_mm3_s)
{
    duct d = *(const duct *)user;
    if (flow_mm3_s == 0.0)
        return 0.0;
    d.target = log(fabs(flow_mm3_s) * VUGI_MM3 / d.scale);
    double guess = log(d.fluid.consistency_pa_sn) + d.fluid.flow_index * (d.target + 1.5);
    double excess = exp(vugi_root(rate_above_target, &d, guess));
    return copysign((d.fluid.yield_stress_pa + excess) / d.stress, flow_mm3_s);
}

static const vugi_limit pressure_range = {"pressure_pa", 0.0, -1e10, 1e10};
static const vugi_limit flow_range = {"flow_mm3_s", 0.0, -1e15, 1e15};

static vug_status tube_make(vug_context *ctx, const char *call, const vug_fluid *fluid,
    double radius_mm, double length_mm, duct *d)
{
    vug_fluid own;
    vug_status status = vugi_fluid_read(ctx, call, fluid, &own);
    if (status)
        return status;
    const vugi_limit limits[] = {
        {"radius_mm", radius_mm, 1e-4, 1e4},
        {"length_mm", length_mm, 1e-4, 1e7},
    };
    status = vugi_check(ctx, call, limits, 2);
    if (status)
        return status;
    *d = tube_duct(&own, radius_mm, length_mm);
    return VUG_OK;
}

static vug_status slot_make(vug_context *ctx, const char *call, const vug_fluid *fluid,
    double gap_mm, double width_mm, double length_mm, duct *d)
{
    vug_fluid own;
    vug_status status = vugi_fluid_read(ctx, call, fluid, &own);
    if (status)
        return status;
    const vugi_limit limits[] = {
        {"gap_mm", gap_mm, 1e-4, 1e4},
        {"width_mm", width_mm, gap_mm, 1e7},
        {"length_mm", length_mm, 1e-4, 1e7},
    };
    status = vugi_check(ctx, call, limits, 3);
    if (status)
        return status;
    *d = slot_duct(&own, gap_mm, width_mm, length_mm);
    return VUG_OK;
}

vug_status vug_tube_flow(vug_context *ctx, const vug_fluid *fluid, double radius_mm,
    double length_mm, const double *pressure_pa, size_t count, double *flow_mm3_s)
{
    duct d;
    vug_status status = tube_make(ctx, __func__, fluid, radius_mm, length_mm, &d);
    return status ? status
                  : vugi_each(ctx, __func__, pressure_range, pressure_pa, count, duct_flow_mm3_s,
                      &d, flow_mm3_s);
}

vug_status vug_tube_pressure(vug_context *ctx, const vug_fluid *fluid, double radius_mm,
    double length_mm, const double *flow_mm3_s, size_t count, double *pressure_pa)
{
    duct d;
    vug_status status = tube_make(ctx, __func__, fluid, radius_mm, length_mm, &d);
    return status ? status
                  : vugi_each(ctx, __func__, flow_range, flow_mm3_s, count, duct_pressure_pa, &d,
                      pressure_pa);
}

vug_status vug_tube_start_pressure(vug_context *ctx, const vug_fluid *fluid, double radius_mm,
    double length_mm, double *pressure_pa)
{
    duct d;
    vug_status status = tube_make(ctx, __func__, fluid, radius_mm, length_mm, &d);
    if (!status)
        status = vugi_check_result(ctx, __func__, "pressure_pa", pressure_pa);
    return status ? status
                  : vugi_give(ctx, __func__, d.fluid.yield_stress_pa / d.stress, pressure_pa);
}

vug_status vug_slot_flow(vug_context *ctx, const vug_fluid *fluid, double gap_mm, double width_mm,
    double length_mm, const double *pressure_pa, size_t count, double *flow_mm3_s)
{
    duct d;
    vug_status status = slot_make(ctx, __func__, fluid, gap_mm, width_mm, length_mm, &d);
    return status ? status
                  : vugi_each(ctx, __func__, pressure_range, pressure_pa, count, duct_flow_mm3_s,
                      &d, flow_mm3_s);
}

vug_status vug_slot_pressure(vug_context *ctx, const vug_fluid *fluid, double gap_mm,
    double width_mm, double length_mm, const double *flow_mm3_s, size_t count, double *pressure_pa)
{
    duct d;
    vug_status status = slot_make(ctx, __func__, fluid, gap_mm, width_mm, length_mm, &d);
    return status ? status
                  : vugi_each(ctx, __func__, flow_range, flow_mm3_s, count, duct_pressure_pa, &d,
                      pressure_pa);
}
