/* SPDX-License-Identifier: MIT
 * Paint that dries in a cavity: how often to top up, and how long that takes. */
#include "flow/flow.h"
#include "flow/numbers.h"
#include "flow/water.h"

#include <math.h>

vug_status vug_drying_fills(vug_context *ctx, double solids_fraction, double void_fraction,
    int32_t *fills)
{
    const vugi_limit limits[] = {
        {"solids_fraction", solids_fraction, 1e-3, 1.0},
        {"void_fraction", void_fraction, 1e-9, 1.0},
    };
    vug_status status = vugi_check(ctx, __func__, limits, 2);
    if (!status)
        status = vugi_check_result(ctx, __func__, "fills", fills);
    if (status)
        return status;
    double needed = solids_fraction == 1.0 ? 1.0 : log(void_fraction) / log(1.0 - solids_fraction);
    *fills = (int32_t)fmax(ceil(needed * (1.0 - 1e-12)), 1.0);
    return VUG_OK;
}

vug_status vug_drying_time(vug_context *ctx, double water_mm3, double hole_diameter_mm,
    double hole_length_mm, double temperature_c, double humidity, double *time_s)
{
    const vugi_limit limits[] = {
        {"water_mm3", water_mm3, 0.0, 1e12},
        {"hole_diameter_mm", hole_diameter_mm, 1e-3, 1e3},
        {"hole_length_mm", hole_length_mm, 0.0, 1e5},
        {"temperature_c", temperature_c, 0.0, 60.0},
        {"humidity", humidity, 0.0, 0.99},
    };
    vug_status status = vugi_check(ctx, __func__, limits, 5);
    if (!status)
        status = vugi_check_result(ctx, __func__, "time_s", time_s);
    if (status)
        return status;
    const double gas = 8.314462618, molar_mass = 0.018015;
    double kelvin = temperature_c + 273.15;
    double diffusivity = 2.178e-5 * pow(kelvin / 273.15, 1.81); /* Massman 1998, from memory */
    double inside = vugi_water_vapour_pressure(temperature_c), outside = humidity * inside;
    double radius = 0.5 * hole_diameter_mm * VUGI_MM;
    double length = hole_length_mm * VUGI_MM + VUGI_PI / 4.0 * radius; /* outer end: 1/(4 D a) */
    /* Stefan's tube (Bird, Stewart, Lightfoot, Transport Phenomena), mol/s */
    double flow = VUGI_PI * radius * radius * diffusivity * VUGI_ATMOSPHERE
        / (gas * kelvin * length) * log((VUGI_ATMOSPHERE - outside) / (VUGI_ATMOSPHERE - inside));
    double mass = water_mm3 * VUGI_MM3 * vugi_water_density(temperature_c);
    return vugi_give(ctx, __func__, mass / (flow * molar_mass), time_s);
}
