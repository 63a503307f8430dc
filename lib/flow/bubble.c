/* SPDX-License-Identifier: MIT
 * Bubbles: stuck in a tube, rising in a tube and in the open, held by a yield stress. */
#include "base/root.h"
#include "flow/capillarity.h"
#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/interval.h"
#include "flow/numbers.h"
#include "flow/viscosity.h"

#include <math.h>

/* Bretherton 1961: density g radius^2 / tension up to which a long bubble does not rise. */
static const double bond_stuck = 0.842;

/* Tsamopoulos et al. 2008: yield / (density g radius) that holds a round bubble; 0.143/2 with the
 * diameter. (The 0.143 known for a solid sphere is scaled otherwise.) */
static const double bingham_held = 0.143;

/* Viscosity at the stress at which a bubble of this diameter just moves; 0 if it is held. The
 * stress scale makes the estimate agree with the criterion for being held, and leaves plain
 * liquids alone. */
static double bubble_viscosity(const vug_fluid *fluid, double diameter)
{
    if (vugi_fluid_is_newtonian(fluid))
        return vugi_fluid_viscosity(fluid, 0.0);
    double stress = 0.5 * bingham_held * fluid->density_kg_m3 * VUGI_G * diameter;
    return stress > vugi_fluid_yield(fluid) ? stress / vugi_fluid_rate(fluid, stress) : 0.0;
}

static double held_radius(const vug_fluid *fluid)
{
    return vugi_fluid_yield(fluid) / (bingham_held * fluid->density_kg_m3 * VUGI_G);
}

/* ---- in a tube -------------------------------------------------------------- */

static double stuck_diameter(const vug_fluid *fluid)
{
    return 2.0 * fmax(sqrt(bond_stuck) * vugi_capillary_length(fluid), held_radius(fluid));
}

/* The rational form Viana et al. call the logistic dose curve. */
static double dose(double x, double a, double b, double c, double g)
{
    return a / pow(1.0 + pow(x / b, c), g);
}

/* Froude number U / sqrt(g D). The paper's own laws for a buoyancy Reynolds number above 200 and
 * below 10, joined with the exponent of its universal formula. (As printed, that formula falls
 * 30 % below the paper's law for slow bubbles at Eotvos numbers near 9, which are those of small
 * holes.) */
static double viana(double eotvos, double reynolds)
{
    double fast = dose(eotvos, 0.34, 14.793, -3.06, 0.58);
    double slow = 9.494e-3 / pow(1.0 + 6197.0 * pow(eotvos, -2.561), 0.5793); /* times Re^1.026 */
    double joint = pow(fast / slow, 1.0 / 1.026); /* Reynolds number at which both are equal */
    double sharpness = dose(eotvos, -1.45, 24.867, -9.93, -0.094);
    return dose(reynolds, fast, joint, sharpness, -1.026 / sharpness);
}

static double bretherton_above(const void *user, double ln_ca)
{
    double excess = *(const double *)user;
    return log((1.25 * exp(ln_ca * 2.0 / 9.0) + 2.24 * exp(ln_ca / 3.0)) / excess);
}

static double tube_speed(const vug_fluid *fluid, double diameter)
{
    double viscosity = bubble_viscosity(fluid, diameter);
    if (diameter <= stuck_diameter(fluid) || viscosity == 0.0)
        return 0.0;
    double weight = fluid->density_kg_m3 * VUGI_G;
    double tension = fluid->surface_tension_n_m;
    double eotvos = tension > 0.0 ? weight * diameter * diameter / tension : 1e30;
    double reynolds = sqrt(diameter * diameter * diameter * weight * fluid->density_kg_m3)
        / viscosity;
    double speed = sqrt(VUGI_G * diameter) * viana(fmin(eotvos, 1e30), reynolds);
    double excess = 0.25 * eotvos - bond_stuck;
    if (excess > 0.0 && excess < 10.0) {
        double ca = exp(vugi_root(bretherton_above, &excess, -7.0));
        speed = fmin(speed, ca * tension / viscosity);
    }
    return speed;
}

/* ---- in the open ------------------------------------------------------------ */

typedef struct rise {
    double diameter, density, viscosity, eotvos;
    bool clean;
} rise;

/* Drag coefficient of a lone bubble: Tomiyama, Kataoka, Zun, Sakaguchi 1998 (JSME Int. J. B
 * 41:472), for Eotvos 1e-2..1e3, Reynolds 1e-3..1e5; below, it is Stokes' law or
 * Hadamard's and Rybczynski's, above, Davies and Taylor's cap. */
static double drag(const rise *b, double reynolds)
{
    double growth = 1.0 + 0.15 * pow(reynolds, 0.687);
    double skin = b->clean ? fmin(16.0 * growth, 48.0) / reynolds : 24.0 * growth / reynolds;
    return fmax(skin, 8.0 / 3.0 * b->eotvos / (b->eotvos + 4.0));
}

static double drag_over_buoyancy(const void *user, double ln_speed)
{
    const rise *b = user;
    double speed = exp(ln_speed);
    double reynolds = b->density * speed * b->diameter / b->viscosity;
    return log(0.75 * drag(b, fmax(reynolds, 1e-300)) / (VUGI_G * b->diameter)) + 2.0 * ln_speed;
}

static double open_speed(const vug_fluid *fluid, double radius, bool clean)
{
    double diameter = 2.0 * radius;
    double viscosity = bubble_viscosity(fluid, diameter);
    if (viscosity == 0.0)
        return 0.0;
    double tension = fmax(fluid->surface_tension_n_m, 1e-30);
    double eotvos = fluid->density_kg_m3 * VUGI_G * diameter * diameter / tension;
    rise b = {diameter, fluid->density_kg_m3, viscosity, eotvos, clean};
    double creeping = b.density * VUGI_G * diameter * diameter / (18.0 * viscosity);
    double guess = log(fmin(creeping, sqrt(VUGI_G * diameter)));
    return exp(vugi_root(drag_over_buoyancy, &b, guess));
}

/* ---- the public calls ------------------------------------------------------- */

static double tube_speed_mm_s(const void *user, double diameter_mm)
{
    return tube_speed(user, diameter_mm * VUGI_MM) / VUGI_MM;
}

static double dirty_speed_mm_s(const void *user, double radius_mm)
{
    return open_speed(user, radius_mm * VUGI_MM, false) / VUGI_MM;
}

static double clean_speed_mm_s(const void *user, double radius_mm)
{
    return open_speed(user, radius_mm * VUGI_MM, true) / VUGI_MM;
}

static const vugi_limit tube_range = {"diameter_mm", 0.0, 1e-4, 1e4};
static const vugi_limit radius_range = {"radius_mm", 0.0, 1e-4, 1e4};

static vug_status speeds(vug_context *ctx, const char *call, const vug_fluid *fluid,
    vugi_limit limit, const double *x, size_t count, vugi_sum sum, double *out)
{
    vug_fluid own;
    vug_status status = vugi_fluid_read(ctx, call, fluid, &own);
    return status ? status : vugi_each(ctx, call, limit, x, count, sum, &own, out);
}

vug_status vug_bubble_held(vug_context *ctx, const vug_fluid *fluid, double *tube_mm,
    double *open_mm)
{
    vug_fluid own;
    vug_status status = vugi_fluid_read(ctx, __func__, fluid, &own);
    if (!status && !tube_mm && !open_mm)
        status = vugi_check_result(ctx, __func__, "tube_mm and open_mm", NULL);
    if (status)
        return status;
    if (tube_mm)
        *tube_mm = stuck_diameter(&own) / VUGI_MM;
    if (open_mm)
        *open_mm = 2.0 * held_radius(&own) / VUGI_MM;
    return VUG_OK;
}

static vug_status tube_speed_of(void *user, const vug_fluid *fluid, double *speed_mm_s)
{
    *speed_mm_s = tube_speed(fluid, *(const double *)user * VUGI_MM) / VUGI_MM;
    return VUG_OK;
}

vug_status vug_bubble_tube_range(vug_context *ctx, const vug_fluid *low, const vug_fluid *typical,
    const vug_fluid *high, double diameter_mm, vug_interval *speed_mm_s)
{
    vugi_limit limit = tube_range;
    limit.value = diameter_mm;
    vug_status status = vugi_check(ctx, __func__, &limit, 1);
    return status ? status
                  : vugi_over_fluids(ctx, __func__, low, typical, high, tube_speed_of, &diameter_mm,
                      speed_mm_s);
}

vug_status vug_bubble_tube_speed(vug_context *ctx, const vug_fluid *fluid,
    const double *diameter_mm, size_t count, double *speed_mm_s)
{
    return speeds(ctx, __func__, fluid, tube_range, diameter_mm, count, tube_speed_mm_s,
        speed_mm_s);
}

static double exchange_mm3_s(const void *user, double diameter_mm)
{
    return VUGI_PI / 4.0 * diameter_mm * diameter_mm * tube_speed_mm_s(user, diameter_mm);
}

vug_status vug_exchange_flow(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double *flow_mm3_s)
{
    return speeds(ctx, __func__, fluid, tube_range, &diameter_mm, 1, exchange_mm3_s, flow_mm3_s);
}

vug_status vug_bubble_open_speed(vug_context *ctx, const vug_fluid *fluid, int32_t clean,
    const double *radius_mm, size_t count, double *speed_mm_s)
{
    return speeds(ctx, __func__, fluid, radius_range, radius_mm, count,
        clean ? clean_speed_mm_s : dirty_speed_mm_s, speed_mm_s);
}
