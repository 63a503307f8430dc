/* SPDX-License-Identifier: MIT
 * Plugs, and the pressure in a sealed part that warms or freezes. */
#include "base/root.h"
#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/numbers.h"
#include "flow/water.h"

#include <math.h>

static const double ice_point = 273.15;  /* K at 0 C */
static const double ice_density = 916.7; /* kg/m3 at 0 C (IAPWS R10-06) */
static const double
    ice_expansion = 1.6e-4; /* by volume, per K near 0 C (CRC Handbook, from memory) */

vug_status vug_plug(vug_context *ctx, double diameter_mm, double depth_mm, double pressure_pa,
    double *volume_mm3, double *shear_pa)
{
    const vugi_limit limits[] = {
        {"diameter_mm", diameter_mm, 0.0, 1e4},
        {"depth_mm", depth_mm, shear_pa ? 1e-4 : 0.0, 1e5},
        {"pressure_pa", pressure_pa, -1e10, 1e10},
    };
    vug_status status = vugi_check(ctx, __func__, limits, 3);
    if (!status && !volume_mm3 && !shear_pa)
        status = vugi_check_result(ctx, __func__, "volume_mm3 and shear_pa", NULL);
    if (status)
        return status;
    if (volume_mm3)
        *volume_mm3 = VUGI_PI / 4.0 * diameter_mm * diameter_mm * depth_mm;
    if (shear_pa)
        *shear_pa = pressure_pa * diameter_mm / (4.0 * depth_mm);
    return VUG_OK;
}

vug_status vug_head_pressure(vug_context *ctx, const vug_fluid *fluid, double head_mm,
    double *pressure_pa)
{
    vug_fluid own;
    vug_status status = vugi_fluid_read(ctx, __func__, fluid, &own);
    const vugi_limit limit = {"head_mm", head_mm, -1e6, 1e6};
    if (!status)
        status = vugi_check(ctx, __func__, &limit, 1);
    if (!status)
        status = vugi_check_result(ctx, __func__, "pressure_pa", pressure_pa);
    return status
        ? status
        : vugi_give(ctx, __func__, own.density_kg_m3 * VUGI_G * head_mm * VUGI_MM, pressure_pa);
}

/* ---- the shell ---------------------------------------------------------------- */

static const vug_shell default_shell = {
    .struct_size = sizeof(vug_shell),
    .shape = VUG_SHELL_SPHERE,
    .inner_radius_mm = 18.0,
    .wall_mm = 2.0,
    .modulus_pa = 2e9,
    .poisson = 0.35,
    .expansion_low_per_k = 70e-6,
    .expansion_high_per_k = 110e-6,
};

vug_status vug_shell_init(vug_shell *shell, size_t size)
{
    return vugi_struct_init(shell, size, &default_shell, sizeof default_shell);
}

static vug_status read_shell(vug_context *ctx, const char *call, const vug_shell *shell,
    vug_shell *own)
{
    *own = default_shell;
    vug_status status = vugi_struct_read(ctx, own, sizeof *own, shell, "vug_shell");
    if (status)
        return status;
    const vugi_limit limits[] = {
        {"shell->shape", own->shape, 0.0, VUG_SHELL_COUNT - 1},
        {"shell->inner_radius_mm", own->inner_radius_mm, 1e-3, 1e5},
        {"shell->wall_mm", own->wall_mm, 1e-4, 1e5},
        {"shell->modulus_pa", own->modulus_pa, 1e3, 1e13},
        {"shell->poisson", own->poisson, 0.0, 0.5},
        {"shell->expansion_low_per_k", own->expansion_low_per_k, 0.0, 1e-2},
        {"shell->expansion_high_per_k", own->expansion_high_per_k, own->expansion_low_per_k, 1e-2},
    };
    return vugi_check(ctx, call, limits, sizeof limits / sizeof limits[0]);
}

/* Lame's stresses at the inner face of a thick shell, per pressure inside: around, and along the
 * axis of a cylinder with closed ends (for a sphere the same as around). Across, it is -1. */
static void inner_stress(const vug_shell *shell, double *around, double *along)
{
    double a = shell->inner_radius_mm, b = a + shell->wall_mm;
    if (shell->shape == VUG_SHELL_SPHERE) {
        double a3 = a * a * a, b3 = b * b * b;
        *around = *along = (2.0 * a3 + b3) / (2.0 * (b3 - a3));
    } else {
        *around = (a * a + b * b) / (b * b - a * a);
        *along = a * a / (b * b - a * a);
    }
}

/* Sum of the three strains of the cavity: sphere three times around, cylinder twice around and once
 * along. */
static double compliance(const vug_shell *shell)
{
    double around, along, nu = shell->poisson;
    inner_stress(shell, &around, &along);
    if (shell->shape == VUG_SHELL_SPHERE)
        return 3.0 * ((1.0 - nu) * around + nu) / shell->modulus_pa;
    double strain_around = around - nu * (along - 1.0);
    double strain_along = along - nu * (around - 1.0);
    return (2.0 * strain_around + strain_along) / shell->modulus_pa;
}

vug_status vug_shell_under(vug_context *ctx, const vug_shell *shell, double pressure_pa,
    double *growth, double *stress_pa)
{
    vug_shell own;
    vug_status status = read_shell(ctx, __func__, shell, &own);
    const vugi_limit limit = {"pressure_pa", pressure_pa, -1e10, 1e10};
    if (!status)
        status = vugi_check(ctx, __func__, &limit, 1);
    if (!status && !growth && !stress_pa)
        status = vugi_check_result(ctx, __func__, "growth and stress_pa", NULL);
    if (status)
        return status;
    double around, along;
    inner_stress(&own, &around, &along);
    if (growth)
        *growth = compliance(&own) * pressure_pa;
    if (stress_pa)
        *stress_pa = around * pressure_pa;
    return VUG_OK;
}

/* ---- warming ---------------------------------------------------------------------- */

static const vug_sealed default_sealed = {
    .struct_size = sizeof(vug_sealed),
    .liquid_expansion_per_k = 2.57e-4,
    .liquid_compressibility_per_pa = 4.52e-10,
    .air_fraction = 0.0,
    .sealed_at_c = 20.0,
};

vug_status vug_sealed_init(vug_sealed *sealed, size_t size)
{
    return vugi_struct_init(sealed, size, &default_sealed, sizeof default_sealed);
}

static vug_status check_water(vug_context *ctx, const char *call, double sealed_c, double now_c)
{
    double lo = fmin(sealed_c, now_c), hi = fmax(sealed_c, now_c);
    if (lo < 0.0)
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: at %g C water is ice, which takes 9 %% more room: ask for the air that frost "
            "needs",
            call, lo);
    if (hi > 100.0)
        return vugi_fail(ctx, VUG_ERR_DOMAIN, "%s: at %g C water boils; stay below 100 C", call,
            hi);
    return VUG_OK;
}

static vug_status read_sealed(vug_context *ctx, const char *call, const vug_sealed *sealed,
    double warm_k, vug_sealed *own)
{
    *own = default_sealed;
    vug_status status = vugi_struct_read(ctx, own, sizeof *own, sealed, "vug_sealed");
    if (status)
        return status;
    const vugi_limit limits[] = {
        {"sealed->content", own->content, 0.0, VUG_CONTENT_COUNT - 1},
        {"sealed->liquid_expansion_per_k", own->liquid_expansion_per_k, -1e-2, 1e-2},
        {"sealed->liquid_compressibility_per_pa", own->liquid_compressibility_per_pa, 0.0, 1e-6},
        {"sealed->air_fraction", own->air_fraction, 0.0, 1.0},
        {"sealed->sealed_at_c", own->sealed_at_c, -100.0, 200.0},
        {"warm_k", warm_k, -100.0, 200.0},
    };
    status = vugi_check(ctx, call, limits, sizeof limits / sizeof limits[0]);
    return status || own->content != VUG_CONTENT_WATER
        ? status
        : check_water(ctx, call, own->sealed_at_c, own->sealed_at_c + warm_k);
}

/* Cavity, liquid and air per volume of the cavity when it was sealed, at atmospheric pressure. */
typedef struct balance {
    double cavity; /* after warming, before pressure */
    double liquid;
    double air;                      /* volume times pressure of the dry air */
    double vapour;                   /* its pressure, Pa */
    double give_cavity, give_liquid; /* per Pa */
} balance;

/* What the cavity has to spare at a pressure of the dry air: rises with it. */
static double spare(const void *user, double ln_dry)
{
    const balance *b = user;
    double dry = exp(ln_dry), over = dry + b->vapour - VUGI_ATMOSPHERE;
    return b->cavity + b->give_cavity * over - (b->liquid - b->give_liquid * over) - b->air / dry;
}

static double vapour(const vug_sealed *s, double temperature_c)
{
    return s->content == VUG_CONTENT_WATER ? vugi_water_vapour_pressure(temperature_c) : 0.0;
}

/* Volume of the liquid after warming, of 1 before. */
static double expanded(const vug_sealed *s, double warm_k)
{
    if (s->content == VUG_CONTENT_PLAIN)
        return 1.0 + s->liquid_expansion_per_k * warm_k;
    return vugi_water_density(s->sealed_at_c) / vugi_water_density(s->sealed_at_c + warm_k);
}

/* Pressure above the outside; a liquid without air parts rather than hang at less than its vapour. */
static double pressure_of(const vug_shell *shell, const vug_sealed *s, double expansion,
    double warm_k)
{
    double filled = 1.0 - s->air_fraction, cool = s->sealed_at_c, warm = cool + warm_k;
    balance b = {
        .cavity = 1.0 + 3.0 * expansion * warm_k,
        .liquid = filled * expanded(s, warm_k),
        .air = s->air_fraction * (VUGI_ATMOSPHERE - vapour(s, cool)) * (warm + ice_point)
            / (cool + ice_point),
        .vapour = vapour(s, warm),
        .give_cavity = compliance(shell),
        .give_liquid = filled * s->liquid_compressibility_per_pa,
    };
    if (b.air == 0.0)
        return fmax((b.liquid - b.cavity) / (b.give_cavity + b.give_liquid),
            b.vapour - VUGI_ATMOSPHERE);
    return exp(vugi_root(spare, &b, log(VUGI_ATMOSPHERE))) + b.vapour - VUGI_ATMOSPHERE;
}

vug_status vug_sealed_pressure(vug_context *ctx, const vug_shell *shell, const vug_sealed *sealed,
    double warm_k, double *low_pa, double *high_pa)
{
    vug_shell own;
    vug_sealed content;
    vug_status status = read_shell(ctx, __func__, shell, &own);
    if (!status)
        status = read_sealed(ctx, __func__, sealed, warm_k, &content);
    if (!status && (!low_pa || !high_pa))
        status = vugi_check_result(ctx, __func__, "low_pa or high_pa", NULL);
    if (status)
        return status;
    double soft = pressure_of(&own, &content, own.expansion_high_per_k, warm_k);
    double stiff = pressure_of(&own, &content, own.expansion_low_per_k, warm_k);
    if (!isfinite(soft) || !isfinite(stiff))
        return vugi_fail(ctx, VUG_ERR_DOMAIN, "%s: no pressure balances this", __func__);
    *low_pa = fmin(soft, stiff);
    *high_pa = fmax(soft, stiff);
    return VUG_OK;
}

static double highest(const vug_shell *shell, const vug_sealed *sealed, double air, double warm_k)
{
    vug_sealed s = *sealed;
    s.air_fraction = air;
    return fmax(pressure_of(shell, &s, shell->expansion_low_per_k, warm_k),
        pressure_of(shell, &s, shell->expansion_high_per_k, warm_k));
}

typedef struct warming {
    const vug_shell *shell;
    const vug_sealed *content;
    double warm_k, allowed_pa;
} warming;

/* Does the pressure pass what is allowed with that part of air? */
static bool too_little(void *user, double air)
{
    const warming *w = user;
    return !(highest(w->shell, w->content, air, w->warm_k) <= w->allowed_pa);
}

vug_status vug_sealed_air(vug_context *ctx, const vug_shell *shell, const vug_sealed *sealed,
    double warm_k, double allowed_pa, double *air_fraction)
{
    vug_shell own;
    vug_sealed content;
    vug_status status = read_shell(ctx, __func__, shell, &own);
    if (!status)
        status = read_sealed(ctx, __func__, sealed, warm_k, &content);
    const vugi_limit limit = {"allowed_pa", allowed_pa, 1.0, 1e9};
    if (!status)
        status = vugi_check(ctx, __func__, &limit, 1);
    if (!status)
        status = vugi_check_result(ctx, __func__, "air_fraction", air_fraction);
    if (status)
        return status;
    double lo = 0.0, hi = 0.99;
    if (highest(&own, &content, lo, warm_k) <= allowed_pa) {
        *air_fraction = 0.0;
        return VUG_OK;
    }
    if (!(highest(&own, &content, hi, warm_k) <= allowed_pa))
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: warm, damp air alone passes %g Pa; vent the part", __func__, allowed_pa);
    warming w = {&own, &content, warm_k, allowed_pa};
    vugi_halve(too_little, &w, &lo, &hi, 60, 0.0);
    return vugi_give(ctx, __func__, hi, air_fraction);
}

/* ---- frost ------------------------------------------------------------------------- */

/* Air for a part filled at warm_c that has become cold_c and ice. Of the cavity, air a is left with
 * a k, the rest grows to (1 - a) m, and the cavity is 1 - s: a = (m - 1 + s) / (m - k). */
static double air_against_ice(double shrink_per_k, double water, double warm_c, double cold_c,
    double allowed_pa)
{
    double ice = vugi_water_density(warm_c) / ice_density * (1.0 + ice_expansion * cold_c);
    double grown = water * ice + 1.0 - water;
    double left = VUGI_ATMOSPHERE / (VUGI_ATMOSPHERE + allowed_pa) * (cold_c + ice_point)
        / (warm_c + ice_point);
    double lost = shrink_per_k * (warm_c - cold_c);
    return fmax((grown - 1.0 + lost) / (grown - left), 0.0);
}

/* The ice shrinks too when it cools, less than most plastics: either end may be the worse. */
vug_status vug_ice_air(vug_context *ctx, const vug_shell *shell, double water_fraction,
    double filled_at_c, double coldest_c, double allowed_pa, double *air_fraction)
{
    vug_shell own;
    vug_status status = read_shell(ctx, __func__, shell, &own);
    const vugi_limit limits[] = {
        {"water_fraction", water_fraction, 0.0, 1.0},
        {"filled_at_c", filled_at_c, 0.0, 100.0},
        {"coldest_c", coldest_c, -60.0, 0.0},
        {"allowed_pa", allowed_pa, 1.0, 1e9},
    };
    if (!status)
        status = vugi_check(ctx, __func__, limits, sizeof limits / sizeof limits[0]);
    if (!status)
        status = vugi_check_result(ctx, __func__, "air_fraction", air_fraction);
    if (status)
        return status;
    double shrink = 3.0 * own.expansion_high_per_k;
    return vugi_give(ctx, __func__,
        fmax(air_against_ice(shrink, water_fraction, filled_at_c, 0.0, allowed_pa),
            air_against_ice(shrink, water_fraction, filled_at_c, coldest_c, allowed_pa)),
        air_fraction);
}
