/* SPDX-License-Identifier: MIT
 * A paint's numbers from kitchen tools: yield stress by a tilted plate, consistency and index by a
 * timed syringe. */
#include "base/root.h"
#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/hole.h"
#include "flow/numbers.h"

#include <math.h>

vug_status vug_yield_from_slope(vug_context *ctx, double density_kg_m3, double layer_mm,
    double slope_deg, double *yield_stress_pa)
{
    const vugi_limit limits[] = {
        {"density_kg_m3", density_kg_m3, 1.0, 30000.0},
        {"layer_mm", layer_mm, 1e-6, 1e4},
        {"slope_deg", slope_deg, 0.0, 90.0},
    };
    vug_status status = vugi_check(ctx, __func__, limits, 3);
    if (!status)
        status = vugi_check_result(ctx, __func__, "yield_stress_pa", yield_stress_pa);
    if (status)
        return status;
    double stress = density_kg_m3 * VUGI_G * layer_mm * VUGI_MM * sin(slope_deg * VUGI_PI / 180.0);
    return vugi_give(ctx, __func__, stress, yield_stress_pa);
}

typedef struct points {
    vug_fluid fluid; /* index set by the outer search, consistency by the inner */
    double bore_mm, length_mm;
    const double *pressure, *flow;
    size_t count;
    double mean_ln_pressure;
} points;

/* ln(measured flow / flow of the fluid), over the points: mean, or covariance with ln(pressure), or
 * mean square. */
typedef struct residuals {
    double mean, tilt, square;
} residuals;

static residuals residuals_of(const points *p)
{
    residuals sum = {0.0, 0.0, 0.0};
    vugi_orifice needle = vugi_orifice_make(&p->fluid, p->bore_mm, p->length_mm);
    for (size_t i = 0; i < p->count; i++) {
        double flow = vugi_orifice_flow(&needle, p->pressure[i]) / VUGI_MM3;
        double r = log(p->flow[i] / fmax(flow, 1e-300));
        sum.mean += r / (double)p->count;
        sum.tilt += r * (log(p->pressure[i]) - p->mean_ln_pressure);
        sum.square += r * r / (double)p->count;
    }
    return sum;
}

/* Thicker: less flow, so the measured flow stands higher against it. */
static double mean_at_consistency(const void *user, double ln_consistency)
{
    points p = *(const points *)user;
    p.fluid.consistency_pa_sn = exp(ln_consistency);
    return residuals_of(&p).mean;
}

static double consistency_at_index(points *p)
{
    double radius = 0.5 * p->bore_mm * VUGI_MM;
    double stress = exp(p->mean_ln_pressure) * radius / (2.0 * p->length_mm * VUGI_MM);
    double rate = 4.0 * p->flow[0] * VUGI_MM3 / (VUGI_PI * radius * radius * radius);
    p->fluid.consistency_pa_sn = exp(
        vugi_root(mean_at_consistency, p, log(stress) - p->fluid.flow_index * log(rate)));
    return p->fluid.consistency_pa_sn;
}

/* A larger index lets the flow rise less with pressure, so the measured flow stands more tilted. */
static double tilt_at_index(const void *user, double ln_index)
{
    points p = *(const points *)user;
    p.fluid.flow_index = fmin(fmax(exp(ln_index), 0.05), 4.0);
    if (isnan(consistency_at_index(&p)))
        return NAN;
    return residuals_of(&p).tilt;
}

static vug_status check_points(vug_context *ctx, const char *call, points *p)
{
    if (!p->pressure || !p->flow || p->count < 2)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: at least two pressures with flows are needed",
            call);
    double start = vugi_orifice_make(&p->fluid, p->bore_mm, p->length_mm).start;
    double least = INFINITY, most = 0.0;
    p->mean_ln_pressure = 0.0;
    for (size_t i = 0; i < p->count; i++) {
        const vugi_limit limits[] = {
            {"pressure_pa", p->pressure[i], 1e-3, 1e9},
            {"flow_mm3_s", p->flow[i], 1e-6, 1e9},
        };
        vug_status status = vugi_check(ctx, call, limits, 2);
        if (status)
            return status;
        if (p->pressure[i] <= start)
            return vugi_fail(ctx, VUG_ERR_DOMAIN,
                "%s: pressure_pa[%zu] is %g, but a yield stress of "
                "%g Pa holds this needle up to %g Pa",
                call, i, p->pressure[i], p->fluid.yield_stress_pa, start);
        least = fmin(least, p->pressure[i]);
        most = fmax(most, p->pressure[i]);
        p->mean_ln_pressure += log(p->pressure[i]) / (double)p->count;
    }
    if (most < 1.01 * least)
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: the pressures run only from %g to %g Pa; use two "
            "forces that differ, by 2 times or more",
            call, least, most);
    return VUG_OK;
}

vug_status vug_fluid_fit(vug_context *ctx, const vug_fluid *known, double needle_bore_mm,
    double needle_length_mm, const double *pressure_pa, const double *flow_mm3_s, size_t count,
    vug_fluid *fluid, double *misfit)
{
    points p = {.bore_mm = needle_bore_mm,
        .length_mm = needle_length_mm,
        .pressure = pressure_pa,
        .flow = flow_mm3_s,
        .count = count};
    vug_status status = vugi_check_result(ctx, __func__, "fluid", fluid);
    if (!status)
        status = vugi_fluid_read(ctx, __func__, known, &p.fluid);
    const vugi_limit limits[] = {
        {"needle_bore_mm", needle_bore_mm, 1e-3, 100.0},
        {"needle_length_mm", needle_length_mm, 1e-3, 1e5},
    };
    if (!status)
        status = vugi_check(ctx, __func__, limits, 2);
    if (!status)
        status = check_points(ctx, __func__, &p);
    if (status)
        return status;
    p.fluid.flow_index = exp(vugi_root(tilt_at_index, &p, 0.0));
    if (!(p.fluid.flow_index >= 0.1 && p.fluid.flow_index <= 2.0)
        || !(consistency_at_index(&p) >= 1e-7 && p.fluid.consistency_pa_sn <= 1e7))
        return vugi_fail(ctx, VUG_ERR_CONVERGENCE,
            "%s: no index within 0.1 .. 2 explains these flows; "
            "check units, plunger friction and the yield stress",
            __func__);
    status = vugi_struct_write(ctx, fluid, &p.fluid, sizeof p.fluid, "vug_fluid");
    if (!status && misfit)
        *misfit = sqrt(residuals_of(&p).square);
    return status;
}
