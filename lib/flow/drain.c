/* SPDX-License-Identifier: MIT
 * Time to drain through a hole in the wall: the integral of area / flow over the head. */
#include "flow/drain.h"

#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/numbers.h"

#include <math.h>

/* Gauss-Legendre, 6 points on -1..1 (Abramowitz and Stegun 1964, table 25.4). */
static const double node[3] = {0.238619186083196909, 0.661209386466264514, 0.932469514203152028};
static const double weight[3] = {0.467913934572691047, 0.360761573048138608, 0.171324492379170345};

typedef struct tank {
    const vugi_orifice *hole;
    double stop;               /* head at which the hole stops, m */
    double lo, area_lo, slope; /* area = area_lo + slope (head - lo) */
} tank;

/* Integrand over ln(head - stop). */
static double seconds_per_ln(const tank *t, double ln_excess)
{
    double excess = exp(ln_excess);
    double head = t->stop + excess;
    double area = t->area_lo + t->slope * (head - t->lo);
    double pressure = t->hole->start + t->hole->fluid.density_kg_m3 * VUGI_G * excess;
    return area * excess / vugi_orifice_flow(t->hole, pressure);
}

double vugi_drain_seconds(const vugi_orifice *hole, double lo, double area_lo, double hi,
    double area_hi)
{
    const double panel = 0.5; /* in ln(head - stop): error below 1e-10 of the time */
    double stop = hole->start / (hole->fluid.density_kg_m3 * VUGI_G);
    tank t = {hole, stop, lo, area_lo, (area_hi - area_lo) / (hi - lo)};
    double from = log(lo - stop), to = log(hi - stop);
    int panels = (int)ceil((to - from) / panel);
    panels = panels < 1 ? 1 : panels;
    double half = 0.5 * (to - from) / panels, seconds = 0.0;
    for (int i = 0; i < panels; i++) {
        double middle = from + (2 * i + 1) * half;
        for (int k = 0; k < 3; k++)
            seconds += half * weight[k]
                * (seconds_per_ln(&t, middle - half * node[k])
                    + seconds_per_ln(&t, middle + half * node[k]));
    }
    return seconds;
}

static vug_status check_hole(vug_context *ctx, const char *call, const vug_fluid *fluid,
    double hole_diameter_mm, double wall_mm, vugi_orifice *hole)
{
    vug_fluid own;
    vug_status status = vugi_fluid_read(ctx, call, fluid, &own);
    if (status)
        return status;
    const vugi_limit limits[] = {
        {"hole_diameter_mm", hole_diameter_mm, 1e-4, 1e4},
        {"wall_mm", wall_mm, 0.0, 1e7},
    };
    status = vugi_check(ctx, call, limits, 2);
    if (!status)
        *hole = vugi_orifice_make(&own, hole_diameter_mm, wall_mm);
    return status;
}

static vug_status check_stop(vug_context *ctx, const char *call, const vugi_orifice *hole,
    double lowest_mm)
{
    double stop_mm = hole->start / (hole->fluid.density_kg_m3 * VUGI_G) / VUGI_MM;
    if (lowest_mm * (1.0 - 1e-12) > stop_mm)
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_DOMAIN,
        "%s: the yield stress stops the flow at a level of %g mm, before %g mm is reached; "
        "drill wider, thin the liquid, or ask for a higher level",
        call, stop_mm, lowest_mm);
}

static vug_status check_profile(vug_context *ctx, const char *call, const double *level_mm,
    const double *area_mm2, size_t count)
{
    if (!level_mm || !area_mm2 || count < 2)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: at least two levels with areas are needed",
            call);
    for (size_t i = 0; i < count; i++) {
        const vugi_limit limits[] = {
            {"level_mm", level_mm[i], i ? level_mm[i - 1] : 1e-6, 1e6},
            {"area_mm2", area_mm2[i], 0.0, 1e12},
        };
        if (vugi_check(NULL, call, limits, 2))
            return vugi_fail(ctx, VUG_ERR_DOMAIN,
                "%s: row %zu is %g mm, %g mm2; levels must rise within 1e-06 .. 1e+06 and areas "
                "lie within 0 .. 1e+12",
                call, i, level_mm[i], area_mm2[i]);
    }
    return VUG_OK;
}

vug_status vug_drain_time(vug_context *ctx, const vug_fluid *fluid, double hole_diameter_mm,
    double wall_mm, const double *level_mm, const double *area_mm2, size_t count, double *time_s)
{
    vugi_orifice hole;
    vug_status status = check_hole(ctx, __func__, fluid, hole_diameter_mm, wall_mm, &hole);
    if (!status)
        status = vugi_check_result(ctx, __func__, "time_s", time_s);
    if (!status)
        status = check_profile(ctx, __func__, level_mm, area_mm2, count);
    if (!status)
        status = check_stop(ctx, __func__, &hole, level_mm[0]);
    if (status)
        return status;
    double seconds = 0.0;
    for (size_t i = 0; i + 1 < count; i++)
        if (level_mm[i + 1] > level_mm[i])
            seconds += vugi_drain_seconds(&hole, level_mm[i] * VUGI_MM, area_mm2[i] * VUGI_MM2,
                level_mm[i + 1] * VUGI_MM, area_mm2[i + 1] * VUGI_MM2);
    return vugi_give(ctx, __func__, seconds, time_s);
}
