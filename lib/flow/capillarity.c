/* SPDX-License-Identifier: MIT
 * Menisci: rise, holding pressure, and the hole through which air and liquid trade places. */
#include "flow/capillarity.h"

#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/numbers.h"

#include <math.h>


double vugi_capillary_length(const vug_fluid *fluid)
{
    return sqrt(fluid->surface_tension_n_m / (fluid->density_kg_m3 * VUGI_G));
}

/* cos of the contact angle, exactly 0 at 90 degrees. */
static double wetting(const vug_fluid *fluid)
{
    return fluid->contact_angle_deg == 90.0 ? 0.0 : cos(fluid->contact_angle_deg * VUGI_DEGREE);
}

/* First zero of the Bessel function J1: the flattest mode that tilts a pinned, level meniscus and
 * keeps its volume (Abramowitz and Stegun 1964, table 9.5). */
const double vugi_exchange_pinned = 3.8317059702075123;

/* Radius / capillary length at which the axisymmetric meniscus of liquid over air that meets the
 * wall at the contact angle is marginally stable against tilting: the profile (Young and
 * Laplace) whose curvature is zero at the wall. Solved to 1e-12 and fitted, even about 90
 * degrees, in Chebyshev polynomials of 2 (1 - angle/90)^2 - 1; the fit is good to 1e-11. The
 * ends are Bretherton's 0.9176 and the first zero of J1', 1.84118. */
double vugi_exchange_free(double contact_angle_deg)
{
    static const double c[] = {
        1.376450295708,
        -0.46285890039974,
        0.0026826271978365,
        0.0010408081965527,
        0.00026814724123543,
        3.7919292084439e-05,
        2.1428876566878e-06,
        -5.8029010900082e-07,
        -2.2116088950113e-07,
        -3.9611163862284e-08,
        -2.9352120968637e-09,
        6.5468962493142e-10,
        2.9705940575677e-10,
        5.948367275195e-11,
        5.5276167671527e-12,
    };
    double t = 1.0 - contact_angle_deg / 90.0;
    double x = 2.0 * (2.0 * t * t - 1.0), b1 = 0.0, b2 = 0.0;
    for (size_t i = sizeof c / sizeof c[0] - 1; i > 0; i--) {
        double b0 = x * b1 - b2 + c[i];
        b2 = b1;
        b1 = b0;
    }
    return 0.5 * x * b1 - b2 + c[0];
}

/* ---- the public calls ------------------------------------------------------- */

/* Reads the fluid, checks one number and that there is a place for the result. */
static vug_status begin(vug_context *ctx, const char *call, const vug_fluid *fluid, vug_fluid *own,
    vugi_limit limit, const double *out)
{
    vug_status status = vugi_fluid_read(ctx, call, fluid, own);
    if (!status)
        status = vugi_check(ctx, call, &limit, 1);
    return status ? status : vugi_check_result(ctx, call, "the result", out);
}

vug_status vug_capillary_length(vug_context *ctx, const vug_fluid *fluid, double *length_mm)
{
    vug_fluid own;
    vug_status status = begin(ctx, __func__, fluid, &own, (vugi_limit){"", 0.0, 0.0, 0.0},
        length_mm);
    if (status)
        return status;
    return vugi_give(ctx, __func__, vugi_capillary_length(&own) / VUGI_MM, length_mm);
}

vug_status vug_capillary_rise(vug_context *ctx, const vug_fluid *fluid, double radius_mm,
    double *height_mm)
{
    vug_fluid own;
    vug_status status = begin(ctx, __func__, fluid, &own,
        (vugi_limit){"radius_mm", radius_mm, 1e-6, 1e4}, height_mm);
    if (status)
        return status;
    double rise = 2.0 * own.surface_tension_n_m * wetting(&own)
        / (own.density_kg_m3 * VUGI_G * radius_mm * VUGI_MM);
    return vugi_give(ctx, __func__, rise / VUGI_MM, height_mm);
}

vug_status vug_capillary_pressure(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double *pressure_pa)
{
    vug_fluid own;
    vug_status status = begin(ctx, __func__, fluid, &own,
        (vugi_limit){"diameter_mm", diameter_mm, 1e-6, 1e4}, pressure_pa);
    if (status)
        return status;
    double pressure = 4.0 * own.surface_tension_n_m * wetting(&own) / (diameter_mm * VUGI_MM);
    return vugi_give(ctx, __func__, pressure, pressure_pa);
}

vug_status vug_capillary_hold_head(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double *head_mm)
{
    vug_fluid own;
    vug_status status = begin(ctx, __func__, fluid, &own,
        (vugi_limit){"diameter_mm", diameter_mm, 1e-6, 1e4}, head_mm);
    if (status)
        return status;
    double lc = vugi_capillary_length(&own);
    return vugi_give(ctx, __func__, 4.0 * lc * lc / (diameter_mm * VUGI_MM) / VUGI_MM, head_mm);
}

vug_status vug_capillary_hold_diameter(vug_context *ctx, const vug_fluid *fluid, double head_mm,
    double *diameter_mm)
{
    vug_fluid own;
    vug_status status = begin(ctx, __func__, fluid, &own,
        (vugi_limit){"head_mm", head_mm, 1e-6, 1e6}, diameter_mm);
    if (status)
        return status;
    double lc = vugi_capillary_length(&own);
    double diameter = 4.0 * lc * lc * fmax(wetting(&own), 0.0) / (head_mm * VUGI_MM);
    return vugi_give(ctx, __func__, diameter / VUGI_MM, diameter_mm);
}

vug_status vug_exchange_diameter(vug_context *ctx, const vug_fluid *fluid, double *free_mm,
    double *pinned_mm)
{
    vug_fluid own;
    vug_status status = vugi_fluid_read(ctx, __func__, fluid, &own);
    if (status)
        return status;
    if (!free_mm && !pinned_mm)
        return vugi_check_result(ctx, __func__, "free_mm and pinned_mm", NULL);
    double lc_mm = vugi_capillary_length(&own) / VUGI_MM;
    if (free_mm)
        *free_mm = 2.0 * lc_mm * vugi_exchange_free(own.contact_angle_deg);
    if (pinned_mm)
        *pinned_mm = 2.0 * lc_mm * vugi_exchange_pinned;
    return VUG_OK;
}
