/* SPDX-License-Identifier: MIT
 * A liquid by its name and by its numbers. */
#include "liquid.h"

#include "fail.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

liquid_settings liquid_usual(void)
{
    liquid_settings s = {.temperature_c = (double)NAN};
    for (int i = 0; i < VUG_PROPERTY_COUNT; i++)
        s.property[i] = (double)NAN;
    return s;
}

/* A number of the liquid; which: VUG_PROPERTY_. */
static option number_option(const char *name, const char *value, double *target, double lo,
    double hi, const char *help)
{
    return (option){.name = name,
        .value = value,
        .kind = OPTION_NUMBER,
        .target = target,
        .lo = lo,
        .hi = hi,
        .help = help};
}

option *liquid_choices(option *to, liquid_settings *s)
{
    *to++ = (option){.name = "--liquid",
        .value = "NAME",
        .kind = OPTION_TEXT,
        .target = (void *)&s->name,
        .help =
            "the liquid: water, isopropanol, resin, craft-acrylic, thinned-acrylic, dyed-epoxy, "
            "plaster-slip; water at 20 C unless given"};
    *to++ = number_option("--temperature", "C", &s->temperature_c, -50.0, 150.0,
        "of the liquid that --liquid names; 20 unless given");
    *to++ = number_option("--density", "KG/M3", &s->property[VUG_PROPERTY_DENSITY], 1.0, 30000.0,
        "of the liquid, in place of the named one's, as all that follow");
    *to++ = number_option("--viscosity", "PA_S", &s->property[VUG_PROPERTY_CONSISTENCY], 1e-6, 1e6,
        "of the liquid (consistency, if it is not a plain one)");
    *to++ = number_option("--index", "N", &s->property[VUG_PROPERTY_INDEX], 0.1, 2.0,
        "flow index: 1 for a plain liquid");
    *to++ = number_option("--yield", "PA", &s->property[VUG_PROPERTY_YIELD], 0.0, 1e6,
        "yield stress: 0 for a plain liquid");
    *to++ = number_option("--tension", "N/M", &s->property[VUG_PROPERTY_TENSION], 0.0, 10.0,
        "surface tension");
    *to++ = number_option("--angle", "DEG", &s->property[VUG_PROPERTY_ANGLE], 0.0, 180.0,
        "contact angle on the part; 0, which wets it, unless given");
    return to;
}

int liquid_number(const char *name)
{
    for (int32_t p = 0; p < VUG_FLUID_COUNT; p++) {
        const char *known = vug_fluid_preset_name(p);
        size_t i = 0;
        while (known[i] && (known[i] == name[i] || (known[i] == ' ' && name[i] == '-')))
            i++;
        if (!known[i] && !name[i])
            return p;
    }
    return -1;
}

int liquid_by_name(const tool *program, const char *asked_by, const char *name,
    double temperature_c, known_liquid *out)
{
    vug_fluid *const level[VUG_LEVEL_COUNT] = {&out->low, &out->typical, &out->high};
    char known[200] = "";
    int preset = liquid_number(name);
    for (int32_t p = 0, used = 0; p < VUG_FLUID_COUNT && used < 160; p++)
        used += snprintf(known + used, sizeof known - (size_t)used, "%s%s", p > 0 ? ", " : "",
            vug_fluid_preset_name(p));
    if (preset < 0)
        return fail_usage(program, "%s does not know '%s'; it knows %s", asked_by, name, known);
    for (int32_t i = 0; i < VUG_LEVEL_COUNT; i++) {
        vug_fluid_init(level[i], sizeof *level[i]);
        if (vug_fluid_preset(NULL, preset, i, temperature_c, level[i]))
            return fail_usage(program, "%s: there are no numbers for %s at %g C", asked_by, name,
                temperature_c);
    }
    out->name = vug_fluid_preset_name(preset);
    snprintf(out->words, sizeof out->words, "%s at %g C", out->name, temperature_c);
    return DONE;
}

/* Puts in what was given; whether anything was. */
static bool put_given(const liquid_settings *s, vug_fluid *fluid)
{
    double *const member[VUG_PROPERTY_COUNT] = {
        [VUG_PROPERTY_DENSITY] = &fluid->density_kg_m3,
        [VUG_PROPERTY_TENSION] = &fluid->surface_tension_n_m,
        [VUG_PROPERTY_ANGLE] = &fluid->contact_angle_deg,
        [VUG_PROPERTY_YIELD] = &fluid->yield_stress_pa,
        [VUG_PROPERTY_CONSISTENCY] = &fluid->consistency_pa_sn,
        [VUG_PROPERTY_INDEX] = &fluid->flow_index,
    };
    bool any = false;
    for (int i = 0; i < VUG_PROPERTY_COUNT; i++)
        if (!isnan(s->property[i])) {
            *member[i] = s->property[i];
            any = true;
        }
    return any;
}

int liquid_read(const tool *program, const liquid_settings *s, known_liquid *out)
{
    if (!s->name && !isnan(s->temperature_c))
        return fail_usage(program, "--temperature needs --liquid");
    if (s->name) {
        int code = liquid_by_name(program, "--liquid", s->name,
            isnan(s->temperature_c) ? 20.0 : s->temperature_c, out);
        if (code != DONE)
            return code;
    } else {
        vug_fluid_init(&out->typical, sizeof out->typical);
        out->low = out->high = out->typical;
        out->name = NULL;
        snprintf(out->words, sizeof out->words, "water at 20 C that wets the part");
    }
    put_given(s, &out->low);
    put_given(s, &out->high);
    if (put_given(s, &out->typical))
        strcat(out->words, ", with the numbers given");
    return DONE;
}
