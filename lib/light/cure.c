/* SPDX-License-Identifier: MIT
 * Curing: the working curve (Jacobs 1992), and light that reaches the inside. */
#include "flow/flow.h"

#include <math.h>

typedef struct curve { double penetration, critical; } curve;

static double depth_at(const void *user, double dose)
{
    const curve *c = user;
    return dose <= c->critical ? 0.0 : c->penetration * log(dose / c->critical);
}

static vug_status check_curve(vug_context *ctx, const char *call, double penetration_mm,
    double critical_mj_cm2)
{
    const vugi_limit limits[] = {
        {"penetration_mm", penetration_mm, 1e-6, 1e4},
        {"critical_mj_cm2", critical_mj_cm2, 1e-6, 1e6},
    };
    return vugi_check(ctx, call, limits, 2);
}

static const vugi_limit dose_limit = {"dose_mj_cm2", 0.0, 0.0, 1e12};

vug_status vug_cure_depth(vug_context *ctx, double penetration_mm, double critical_mj_cm2,
    double dose_mj_cm2, double *depth_mm)
{
    const curve c = {penetration_mm, critical_mj_cm2};
    vug_status status = check_curve(ctx, __func__, penetration_mm, critical_mj_cm2);
    return status ? status
        : vugi_each(ctx, __func__, dose_limit, &dose_mj_cm2, 1, depth_at, &c, depth_mm);
}

vug_status vug_cure_depth_array(vug_context *ctx, double penetration_mm,
    double critical_mj_cm2, const double *dose_mj_cm2, size_t count, double *depth_mm)
{
    const curve c = {penetration_mm, critical_mj_cm2};
    vug_status status = check_curve(ctx, __func__, penetration_mm, critical_mj_cm2);
    return status ? status
        : vugi_each(ctx, __func__, dose_limit, dose_mj_cm2, count, depth_at, &c, depth_mm);
}

vug_status vug_cure_dose(vug_context *ctx, double penetration_mm, double critical_mj_cm2,
    double depth_mm, double *dose_mj_cm2)
{
    vug_status status = check_curve(ctx, __func__, penetration_mm, critical_mj_cm2);
    const vugi_limit limit = {"depth_mm", depth_mm, 0.0, 1e5};
    if (!status)
        status = vugi_check(ctx, __func__, &limit, 1);
    if (!status)
        status = vugi_check_result(ctx, __func__, "dose_mj_cm2", dose_mj_cm2);
    return status ? status : vugi_give(ctx, __func__,
        critical_mj_cm2 * exp(depth_mm / penetration_mm), dose_mj_cm2);
}

vug_status vug_cure_fit(vug_context *ctx, const double dose_mj_cm2[2],
    const double depth_mm[2], double *penetration_mm, double *critical_mj_cm2)
{
    if (!dose_mj_cm2 || !depth_mm || !penetration_mm || !critical_mj_cm2)
        return vugi_check_result(ctx, __func__, "an argument", NULL);
    const vugi_limit limits[] = {
        {"dose_mj_cm2[0]", dose_mj_cm2[0], 1e-6, 1e9},
        {"dose_mj_cm2[1]", dose_mj_cm2[1], 1e-6, 1e9},
        {"depth_mm[0]", depth_mm[0], 0.0, 1e4},
        {"depth_mm[1]", depth_mm[1], 0.0, 1e4},
    };
    vug_status status = vugi_check(ctx, __func__, limits, 4);
    if (status)
        return status;
    double penetration = (depth_mm[1] - depth_mm[0]) / log(dose_mj_cm2[1] / dose_mj_cm2[0]);
    double critical = dose_mj_cm2[0] * exp(-depth_mm[0] / penetration);
    if (!(penetration > 0.0) || !isfinite(penetration) || !isfinite(critical) || critical <= 0.0)
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: %g mm at %g mJ/cm2 and %g mm at %g mJ/cm2 give no "
            "working curve; the larger dose must cure deeper", __func__, depth_mm[0],
            dose_mj_cm2[0], depth_mm[1], dose_mj_cm2[1]);
    *penetration_mm = penetration;
    *critical_mj_cm2 = critical;
    return VUG_OK;
}

/* ---- the inside ----------------------------------------------------------------- */

static const vug_cure_inside defaults = {
    .struct_size = sizeof(vug_cure_inside),
    .lamp_mw_cm2 = 10.0,
    .wall_mm = 2.0,
    .penetration_mm = 0.5,
    .opening_mm = 0.0,
    .distance_mm = 10.0,
    .needed_mj_cm2 = 1000.0,
};

vug_status vug_cure_inside_init(vug_cure_inside *inside, size_t size)
{
    return vugi_struct_init(inside, size, &defaults, sizeof defaults);
}

vug_status vug_cure_through(vug_context *ctx, const vug_cure_inside *inside,
    double *wall_share, double *opening_share, double *time_s)
{
    vug_cure_inside own = defaults;
    vug_status status = vugi_struct_read(ctx, &own, sizeof own, inside, "vug_cure_inside");
    if (status)
        return status;
    const vugi_limit limits[] = {
        {"lamp_mw_cm2", own.lamp_mw_cm2, 1e-6, 1e6},
        {"wall_mm", own.wall_mm, 0.0, 1e4},
        {"penetration_mm", own.penetration_mm, 1e-6, 1e4},
        {"opening_mm", own.opening_mm, 0.0, 1e4},
        {"distance_mm", own.distance_mm, 1e-6, 1e5},
        {"needed_mj_cm2", own.needed_mj_cm2, 0.0, 1e9},
    };
    status = vugi_check(ctx, __func__, limits, sizeof limits / sizeof limits[0]);
    if (!status && !wall_share && !opening_share && !time_s)
        status = vugi_check_result(ctx, __func__, "every result", NULL);
    if (status)
        return status;
    double wall = exp(-own.wall_mm / own.penetration_mm);
    double r2 = 0.25 * own.opening_mm * own.opening_mm;
    double opening = r2 / (r2 + own.distance_mm * own.distance_mm);
    double time = own.needed_mj_cm2 / (own.lamp_mw_cm2 * fmin(wall + opening, 1.0));
    if (time_s && !isfinite(time))
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: no light reaches the inside through %g mm; light it "
            "through an opening", __func__, own.wall_mm);
    if (wall_share)
        *wall_share = wall;
    if (opening_share)
        *opening_share = opening;
    if (time_s)
        *time_s = time;
    return VUG_OK;
}
