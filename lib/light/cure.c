/* SPDX-License-Identifier: MIT
 * Curing: the working curve (Jacobs 1992), and light that reaches the inside. */
#include "flow/numbers.h"

#include <math.h>

typedef struct curve {
    double penetration, critical;
} curve;

static double depth_at(const void *user, double dose)
{
    const curve *c = user;
    return dose <= c->critical ? 0.0 : c->penetration * log(dose / c->critical);
}

static double dose_at(const void *user, double depth)
{
    const curve *c = user;
    return c->critical * exp(depth / c->penetration);
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
static const vugi_limit depth_limit = {"depth_mm", 0.0, 0.0, 1e5};

vug_status vug_cure_depth(vug_context *ctx, double penetration_mm, double critical_mj_cm2,
    const double *dose_mj_cm2, size_t count, double *depth_mm)
{
    const curve c = {penetration_mm, critical_mj_cm2};
    vug_status status = check_curve(ctx, __func__, penetration_mm, critical_mj_cm2);
    return status
        ? status
        : vugi_each(ctx, __func__, dose_limit, dose_mj_cm2, count, depth_at, &c, depth_mm);
}

vug_status vug_cure_dose(vug_context *ctx, double penetration_mm, double critical_mj_cm2,
    const double *depth_mm, size_t count, double *dose_mj_cm2)
{
    const curve c = {penetration_mm, critical_mj_cm2};
    vug_status status = check_curve(ctx, __func__, penetration_mm, critical_mj_cm2);
    return status
        ? status
        : vugi_each(ctx, __func__, depth_limit, depth_mm, count, dose_at, &c, dose_mj_cm2);
}

/* Slope and intercept of depth over ln(dose), about the means so that nothing cancels. */
static void regress(const double *dose, const double *depth, size_t count, double *penetration,
    double *critical)
{
    double x_mean = 0.0, y_mean = 0.0, xy = 0.0, xx = 0.0;
    for (size_t i = 0; i < count; i++) {
        x_mean += log(dose[i]) / (double)count;
        y_mean += depth[i] / (double)count;
    }
    for (size_t i = 0; i < count; i++) {
        double x = log(dose[i]) - x_mean;
        xy += x * (depth[i] - y_mean);
        xx += x * x;
    }
    *penetration = xx > 1e-12 ? xy / xx : 0.0;
    *critical = *penetration > 0.0 ? exp(x_mean - y_mean / *penetration) : 0.0;
}

vug_status vug_cure_fit(vug_context *ctx, const double *dose_mj_cm2, const double *depth_mm,
    size_t count, double *penetration_mm, double *critical_mj_cm2)
{
    if (!dose_mj_cm2 || !depth_mm || count < 2 || !penetration_mm || !critical_mj_cm2)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "%s: at least two doses with depths, and places for "
            "the results, are needed",
            __func__);
    for (size_t i = 0; i < count; i++) {
        const vugi_limit limits[] = {
            {"dose_mj_cm2", dose_mj_cm2[i], 1e-6, 1e9},
            {"depth_mm", depth_mm[i], 0.0, 1e4},
        };
        vug_status status = vugi_check(ctx, __func__, limits, 2);
        if (status)
            return status;
    }
    double penetration, critical;
    regress(dose_mj_cm2, depth_mm, count, &penetration, &critical);
    if (!(penetration > 0.0) || !isfinite(critical) || critical <= 0.0)
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: these doses and depths give no working curve; use "
            "doses that differ, and larger ones must cure deeper",
            __func__);
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

vug_status vug_cure_through(vug_context *ctx, const vug_cure_inside *inside, double *wall_share,
    double *opening_share, double *time_s)
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
            "through an opening",
            __func__, own.wall_mm);
    if (wall_share)
        *wall_share = wall;
    if (opening_share)
        *opening_share = opening;
    if (time_s)
        *time_s = time;
    return VUG_OK;
}
