/* SPDX-License-Identifier: MIT
 * A round hole of any length, from a sharp-edged orifice to a long tube. Both directions run
 * over the stress at the wall, from which flow and pressure drop follow without iteration. */
#include "flow/hole.h"

#include "base/root.h"
#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/numbers.h"
#include "flow/shear.h"

#include <math.h>

/* Where the jet that leaves the entrance meets the wall again, in diameters: tau ends there. */
static const double attached = 2.4;

/* Loss at the entrance of a hole in a large wall, whose edge is sharp and whose jet does not contract,
 * in dynamic pressures of the mean speed. */
static const double entrance = 0.5;

/* What the contracted jet does not win back at high speed: tau of Idelchik's thick-edged orifices
 * (Handbook of Hydraulic Resistance, diagram 4-15; with the 7th power below the line, which its table
 * of tau agrees with: 1.35, 0.42, 0.24, 0.02 at L/D 0, 0.8, 1, 2). Scaled so that the thin plate has
 * the discharge coefficient 0.611 = pi/(pi + 2), which sharp-edged orifices show. */
static double contraction(double length_over_diameter)
{
    const double thin_plate = 1.0 / (0.611 * 0.611);
    const double tau_thin = attached * pow(10.0, -0.25);
    double l = length_over_diameter;
    if (l >= attached)
        return 0.0;
    double l7 = l * l * l * l * l * l * l;
    double tau = (attached - l) * pow(10.0, -(0.25 + 0.535 * l * l7 / (0.05 + l7)));
    return (thin_plate - 1.0 - entrance) * tau / tau_thin;
}

/* Share of the contraction that a jet of this Reynolds number shows. A slow one does not contract;
 * thin plates pass most, 0.7 of the ideal flow, near a Reynolds number of 100 and come down to 0.61
 * near 2000 (Johansen 1930, Proc. R. Soc. A 126:231). The number is ours: between his and those of
 * tests/flow/cfd_hole.py. */
static double contracted(double reynolds)
{
    return 1.0 - exp(-reynolds / 300.0);
}

/* Pressure that a profile which develops along a tube costs beyond Poiseuille's, in dynamic
 * pressures, at x = length / (diameter Re): from 0 at the mouth to 1.25 far down (Shah 1978, J. Fluids Eng.
 * 100:177). Behind a sharp entrance it begins where the jet is attached, which is the sooner the less
 * it contracts, and 0.5 of the whole is the entrance's already: 0.6 of it, so that a long laminar tube
 * loses 2.25 in all (Hagenbach; Sparrow, Lin, Lundgren 1964). A creeping flow is developed when it
 * comes in; the numbers of that are ours, from tests/flow/cfd_hole.py. */
static double developing_loss(double slender, double reynolds)
{
    double share = 0.6 * (1.0 - exp(-reynolds / 100.0));
    double x = fmax(slender - attached * contracted(reynolds), 0.0) / reynolds;
    if (x < 1e-9)
        return share * 13.76 * sqrt(x);
    double near = 13.76 * sqrt(x), far = 1.25 + 64.0 * x;
    return share * fmax(near + (far - near) / (1.0 + 0.00021 / (x * x)) - 64.0 * x, 0.0);
}

/* What turbulent friction (Blasius) costs beyond laminar_loss, in dynamic pressures, fading in
 * between Reynolds numbers of 2000 and 4000. */
static double turbulent_loss(double reynolds, double length_over_diameter, double laminar_loss)
{
    if (reynolds <= 2000.0)
        return 0.0;
    double blasius = 0.3164 * pow(reynolds, -0.25) * length_over_diameter;
    double weight = fmin((reynolds - 2000.0) / 2000.0, 1.0);
    return weight * fmax(blasius - laminar_loss, 0.0);
}

/* Sampson's 3 mu Q / a^3 for a thin plate is what Poiseuille's law gives over 3 pi a / 8 of tube: half
 * of it before the plate and half behind it, where a jet into air finds nothing to stir. */
static double creeping_end(double radius)
{
    return 3.0 * VUGI_PI / 16.0 * radius;
}

vugi_orifice vugi_orifice_make(const vug_fluid *fluid, double diameter_mm, double length_mm)
{
    vugi_orifice hole = {.fluid = *fluid};
    hole.radius = 0.5 * diameter_mm * VUGI_MM;
    hole.length = length_mm * VUGI_MM;
    hole.length_eff = hole.length + creeping_end(hole.radius);
    hole.start = 2.0 * fluid->yield_stress_pa * hole.length_eff / hole.radius;
    hole.contraction = contraction(length_mm / diameter_mm);
    return hole;
}

vugi_orifice vugi_orifice_immersed(const vug_fluid *fluid, double diameter_mm, double length_mm)
{
    vugi_orifice hole = vugi_orifice_make(fluid, diameter_mm, length_mm);
    hole.exit_end = creeping_end(hole.radius);
    hole.start += 2.0 * fluid->yield_stress_pa * hole.exit_end / hole.radius;
    return hole;
}

static double area(const vugi_orifice *hole)
{
    return VUGI_PI * hole->radius * hole->radius;
}

/* ln of the pressure beyond the start pressure, for a wall stress ln_excess beyond the yield. At the
 * exit a fast jet loses its dynamic pressure and a slow one the creeping half of Sampson's loss; the
 * root of their squares joins them (sudden expansions: Oliveira, Pinho 1997, Int. J. Heat Fluid Flow
 * 18:518). */
static double ln_pressure_excess(const vugi_orifice *hole, double ln_excess)
{
    double excess = exp(ln_excess);
    double speed = hole->radius * exp(vugi_tube_ln_rate(&hole->fluid, ln_excess));
    double dynamic = 0.5 * hole->fluid.density_kg_m3 * speed * speed;
    double reynolds = 16.0 * dynamic / (excess + hole->fluid.yield_stress_pa);
    double slender = hole->length / (2.0 * hole->radius);
    double loss = entrance + hole->contraction * contracted(reynolds);
    if (slender > 0.0 && reynolds > 0.0) {
        double developing = developing_loss(slender, reynolds);
        loss += developing
            + turbulent_loss(reynolds, slender, 64.0 * slender / reynolds + developing);
    }
    double wall = 2.0 * excess / hole->radius; /* pressure per length of tube */
    double ln = log(
        wall * hole->length_eff + dynamic * loss + hypot(dynamic, wall * hole->exit_end));
    return ln < 1e4 ? ln : 1e4; /* infinity and NaN of absurd stresses too: above any target */
}

typedef struct search {
    const vugi_orifice *hole;
    double target;
} search;

static double pressure_above_target(const void *user, double ln_excess)
{
    const search *s = user;
    return ln_pressure_excess(s->hole, ln_excess) - s->target;
}

static double flow_above_target(const void *user, double ln_excess)
{
    const search *s = user;
    return vugi_tube_ln_rate(&s->hole->fluid, ln_excess) - s->target;
}

/* ln of the wall stress beyond the yield stress at which |flow| passes. */
static double ln_excess_at_flow(const vugi_orifice *hole, double flow)
{
    search s = {hole, log(fabs(flow) / (area(hole) * hole->radius))};
    double guess = log(hole->fluid.consistency_pa_sn) + hole->fluid.flow_index * (s.target + 1.5);
    return vugi_root(flow_above_target, &s, guess);
}

double vugi_orifice_flow(const vugi_orifice *hole, double pressure)
{
    double excess = fabs(pressure) - hole->start;
    if (excess <= 0.0)
        return 0.0;
    search s = {hole, log(excess)};
    double guess = log(excess * hole->radius / (2.0 * hole->length_eff));
    double ln_excess = vugi_root(pressure_above_target, &s, guess);
    double flow = area(hole) * hole->radius * exp(vugi_tube_ln_rate(&hole->fluid, ln_excess));
    return copysign(flow, pressure);
}

double vugi_orifice_pressure(const vugi_orifice *hole, double flow)
{
    if (flow == 0.0)
        return 0.0;
    double ln = ln_pressure_excess(hole, ln_excess_at_flow(hole, flow));
    return copysign(hole->start + exp(ln), flow);
}

double vugi_orifice_reynolds(const vugi_orifice *hole, double flow)
{
    if (flow == 0.0)
        return 0.0;
    double stress = hole->fluid.yield_stress_pa + exp(ln_excess_at_flow(hole, flow));
    double speed = flow / area(hole);
    return 8.0 * hole->fluid.density_kg_m3 * speed * speed / stress;
}

/* ---- the public calls ------------------------------------------------------- */

typedef vugi_orifice (*maker)(const vug_fluid *fluid, double diameter_mm, double length_mm);

static vug_status make(vug_context *ctx, const char *call, maker kind, const vug_fluid *fluid,
    double diameter_mm, double length_mm, vugi_orifice *hole)
{
    vug_fluid own;
    vug_status status = vugi_fluid_read(ctx, call, fluid, &own);
    if (status)
        return status;
    const vugi_limit limits[] = {
        {"diameter_mm", diameter_mm, 1e-4, 1e4},
        {"length_mm", length_mm, 0.0, 1e7},
    };
    status = vugi_check(ctx, call, limits, 2);
    if (!status)
        *hole = kind(&own, diameter_mm, length_mm);
    return status;
}

static const vugi_limit pressure_range = {"pressure_pa", 0.0, -1e10, 1e10};
static const vugi_limit flow_range = {"flow_mm3_s", 0.0, -1e15, 1e15};

static double flow_mm3_s_at(const void *user, double pressure_pa)
{
    return vugi_orifice_flow(user, pressure_pa) / VUGI_MM3;
}

static double pressure_pa_at(const void *user, double flow_mm3_s)
{
    return vugi_orifice_pressure(user, flow_mm3_s * VUGI_MM3);
}

vug_status vug_hole_flow(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double length_mm, const double *pressure_pa, size_t count, double *flow_mm3_s)
{
    vugi_orifice hole;
    vug_status status = make(ctx, __func__, vugi_orifice_make, fluid, diameter_mm, length_mm,
        &hole);
    return status ? status
                  : vugi_each(ctx, __func__, pressure_range, pressure_pa, count, flow_mm3_s_at,
                      &hole, flow_mm3_s);
}

vug_status vug_hole_pressure(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double length_mm, const double *flow_mm3_s, size_t count, double *pressure_pa)
{
    vugi_orifice hole;
    vug_status status = make(ctx, __func__, vugi_orifice_make, fluid, diameter_mm, length_mm,
        &hole);
    return status ? status
                  : vugi_each(ctx, __func__, flow_range, flow_mm3_s, count, pressure_pa_at, &hole,
                      pressure_pa);
}

vug_status vug_hole_flow_immersed(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double length_mm, const double *pressure_pa, size_t count, double *flow_mm3_s)
{
    vugi_orifice hole;
    vug_status status = make(ctx, __func__, vugi_orifice_immersed, fluid, diameter_mm, length_mm,
        &hole);
    return status ? status
                  : vugi_each(ctx, __func__, pressure_range, pressure_pa, count, flow_mm3_s_at,
                      &hole, flow_mm3_s);
}

vug_status vug_hole_pressure_immersed(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double length_mm, const double *flow_mm3_s, size_t count, double *pressure_pa)
{
    vugi_orifice hole;
    vug_status status = make(ctx, __func__, vugi_orifice_immersed, fluid, diameter_mm, length_mm,
        &hole);
    return status ? status
                  : vugi_each(ctx, __func__, flow_range, flow_mm3_s, count, pressure_pa_at, &hole,
                      pressure_pa);
}

vug_status vug_hole_start_pressure(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double length_mm, double *pressure_pa)
{
    vugi_orifice hole;
    vug_status status = make(ctx, __func__, vugi_orifice_make, fluid, diameter_mm, length_mm,
        &hole);
    if (!status)
        status = vugi_check_result(ctx, __func__, "pressure_pa", pressure_pa);
    return status ? status : vugi_give(ctx, __func__, hole.start, pressure_pa);
}
