/* SPDX-License-Identifier: MIT
 * Liquids of the bench as ranges: lowest, typical and highest of each property. */
#include "flow/preset.h"

#include "flow/numbers.h"
#include "flow/water.h"

#include <math.h>

vug_fluid vugi_vat_resin(double density_kg_m3, double viscosity_pa_s)
{
    return (vug_fluid){sizeof(vug_fluid), density_kg_m3, 0.030, 0.0, 0.0, viscosity_pa_s, 1.0, 0.0};
}

typedef struct range {
    double level[VUG_LEVEL_COUNT];
} range;

static const struct preset {
    const char *name;
    const char *source;
    range density, tension, angle, yield, consistency, index;
    double volatiles; /* share */
} presets[VUG_FLUID_COUNT] = {
    [VUG_FLUID_WATER] =
        {
            .name = "water",
            .source =
                "density Kell 1975, viscosity IAPWS SR6-08, surface tension IAPWS R1-76; contact "
                "angle on cured resin from memory",
            .angle = {{0.0, 60.0, 90.0}},
            .index = {{1.0, 1.0, 1.0}},
            .volatiles = 1.0,
        },
    [VUG_FLUID_ISOPROPANOL] =
        {
            .name = "isopropanol",
            .source =
                "viscosity CRC Handbook, 44th edition (0, 20 and 40 C; other sources differ by "
                "3.5 %); density 785.5 kg/m3 and surface tension 21.7 mN/m at 20 C, their slopes "
                "and the contact angle from memory; diluted isopropanol is thicker",
            .angle = {{0.0, 0.0, 10.0}},
            .index = {{1.0, 1.0, 1.0}},
            .volatiles = 1.0,
        },
    [VUG_FLUID_RESIN] =
        {
            .name = "resin",
            .source =
                "photopolymer resin for print vats, not cured: from memory; use the data sheet",
            .density = {{1050.0, 1100.0, 1150.0}},
            .tension = {{0.030, 0.034, 0.038}},
            .angle = {{0.0, 0.0, 20.0}},
            .yield = {{0.0, 0.0, 0.0}},
            .consistency = {{0.1, 0.3, 1.0}},
            .index = {{1.0, 1.0, 1.0}},
        },
    [VUG_FLUID_CRAFT_ACRYLIC] =
        {
            .name = "craft acrylic",
            .source = "specific gravity 1.12 from a safety data sheet of 2002; the rest, with "
                      "volume solids of "
                      "four tenths, from memory, "
                      "order of magnitude only: measure yours",
            .density = {{1050.0, 1120.0, 1250.0}},
            .tension = {{0.030, 0.035, 0.040}},
            .angle = {{0.0, 40.0, 80.0}},
            .yield = {{1.0, 5.0, 10.0}},
            .consistency = {{0.5, 2.0, 5.0}},
            .index = {{0.4, 0.55, 0.7}},
            .volatiles = 0.6,
        },
    [VUG_FLUID_THINNED_ACRYLIC] =
        {
            .name = "thinned acrylic",
            .source = "thinned to the flow of ink, with a third as much water as paint: from "
                      "memory, order of "
                      "magnitude only: measure yours",
            .density = {{1000.0, 1050.0, 1120.0}},
            .tension = {{0.030, 0.038, 0.050}},
            .angle = {{0.0, 40.0, 80.0}},
            .yield = {{0.0, 0.1, 0.5}},
            .consistency = {{0.01, 0.03, 0.1}},
            .index = {{0.8, 0.9, 1.0}},
            .volatiles = 0.7,
        },
    [VUG_FLUID_DYED_EPOXY] =
        {
            .name = "dyed epoxy",
            .source =
                "casting epoxy, mixed, early in its pot life: from memory; use the data sheet",
            .density = {{1050.0, 1100.0, 1180.0}},
            .tension = {{0.032, 0.038, 0.045}},
            .angle = {{0.0, 20.0, 50.0}},
            .yield = {{0.0, 0.0, 0.0}},
            .consistency = {{0.3, 0.8, 3.0}},
            .index = {{1.0, 1.0, 1.0}},
        },
    [VUG_FLUID_PLASTER_SLIP] =
        {
            .name = "plaster slip",
            .source =
                "plaster mixed to pour, before it stiffens: from memory, order of magnitude only",
            .density = {{1400.0, 1600.0, 1800.0}},
            .tension = {{0.050, 0.065, 0.073}},
            .angle = {{0.0, 20.0, 60.0}},
            .yield = {{2.0, 10.0, 40.0}},
            .consistency = {{0.05, 0.3, 2.0}},
            .index = {{0.4, 0.7, 1.0}},
        },
};

/* ln(viscosity) as a parabola in 1/T through 4.5646, 2.3703 and 1.3311 mPa s at 0, 20 and 40 C. */
static double isopropanol_viscosity(double t)
{
    const double at[3] = {273.15, 293.15, 313.15}, mu[3] = {4.5646e-3, 2.3703e-3, 1.3311e-3};
    double x = 1.0 / (t + 273.15), ln = 0.0;
    for (int i = 0; i < 3; i++) {
        double term = log(mu[i]);
        for (int k = 0; k < 3; k++)
            if (k != i)
                term *= (x - 1.0 / at[k]) / (1.0 / at[i] - 1.0 / at[k]);
        ln += term;
    }
    return exp(ln);
}

static void by_temperature(int32_t preset, int32_t level, double t, vug_fluid *fluid)
{
    fluid->yield_stress_pa = 0.0;
    if (preset == VUG_FLUID_WATER) {
        fluid->density_kg_m3 = vugi_water_density(t);
        fluid->surface_tension_n_m = vugi_water_tension(t);
        fluid->consistency_pa_sn = vugi_water_viscosity(t);
        return;
    }
    fluid->density_kg_m3 = 785.5 - 0.92 * (t - 20.0);
    fluid->surface_tension_n_m = 0.0217 - 7.9e-5 * (t - 20.0);
    fluid->consistency_pa_sn = isopropanol_viscosity(t) * (1.0 + 0.035 * (level - VUG_TYPICAL));
}

vug_status vug_fluid_preset(vug_context *ctx, int32_t preset, int32_t level, double temperature_c,
    vug_fluid *fluid)
{
    if (preset < 0 || preset >= VUG_FLUID_COUNT || level < 0 || level >= VUG_LEVEL_COUNT)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "vug_fluid_preset: preset %d, level %d: they go to "
            "%d and %d",
            (int)preset, (int)level, VUG_FLUID_COUNT - 1, VUG_LEVEL_COUNT - 1);
    bool warms = preset == VUG_FLUID_WATER || preset == VUG_FLUID_ISOPROPANOL;
    const vugi_limit limit = {"temperature_c", temperature_c, warms ? 0.0 : 15.0,
        warms ? 60.0 : 30.0};
    vug_status status = vugi_check(ctx, __func__, &limit, 1);
    if (status)
        return status;
    const struct preset *p = &presets[preset];
    vug_fluid own = {sizeof own, p->density.level[level], p->tension.level[level],
        p->angle.level[level], p->yield.level[level], p->consistency.level[level],
        p->index.level[level], p->volatiles};
    if (warms)
        by_temperature(preset, level, temperature_c, &own);
    return vugi_struct_write(ctx, fluid, &own, sizeof own, "vug_fluid");
}

const char *vug_fluid_preset_name(int32_t preset)
{
    return preset >= 0 && preset < VUG_FLUID_COUNT ? presets[preset].name : NULL;
}

const char *vug_fluid_preset_source(int32_t preset)
{
    return preset >= 0 && preset < VUG_FLUID_COUNT ? presets[preset].source : NULL;
}
