/* SPDX-License-Identifier: MIT */
#include "liquid.h"

#include "../tool/fail.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

liquid_settings liquid_unasked(void)
{
    return (liquid_settings){.given = {sizeof(vug_fluid), NAN, NAN, NAN, NAN, NAN, NAN}};
}

option *liquid_choices(option *to, liquid_settings *asked)
{
    vug_fluid *fluid = &asked->given;
    *to++ = (option){.name = "--fluid",
        .value = "NAME",
        .kind = OPTION_TEXT,
        .target = &asked->name,
        .help = "a liquid whose numbers are known as ranges: \"water\", \"isopropanol\", "
                "\"resin\", \"craft "
                "acrylic\", \"thinned acrylic\", \"dyed epoxy\", \"plaster slip\"; water at 20 C "
                "that wets the part "
                "unless given"};
    *to++ = (option){.name = "--density",
        .value = "KG/M3",
        .kind = OPTION_NUMBER,
        .target = &fluid->density_kg_m3,
        .lo = 1.0,
        .hi = 30000.0,
        .help = "of the liquid; that of --fluid unless given"};
    *to++ = (option){.name = "--viscosity",
        .value = "PA_S",
        .kind = OPTION_NUMBER,
        .target = &fluid->consistency_pa_sn,
        .lo = 1e-6,
        .hi = 1e6,
        .help = "of the liquid (consistency, if it is not a plain one)"};
    *to++ = (option){.name = "--index",
        .value = "N",
        .kind = OPTION_NUMBER,
        .target = &fluid->flow_index,
        .lo = 0.1,
        .hi = 2.0,
        .help = "flow index: 1 for a plain liquid"};
    *to++ = (option){.name = "--yield",
        .value = "PA",
        .kind = OPTION_NUMBER,
        .target = &fluid->yield_stress_pa,
        .lo = 0.0,
        .hi = 1e6,
        .help = "yield stress: 0 for a plain liquid"};
    *to++ = (option){.name = "--tension",
        .value = "N/M",
        .kind = OPTION_NUMBER,
        .target = &fluid->surface_tension_n_m,
        .lo = 0.0,
        .hi = 10.0,
        .help = "surface tension"};
    *to++ = (option){.name = "--angle",
        .value = "DEG",
        .kind = OPTION_NUMBER,
        .target = &fluid->contact_angle_deg,
        .lo = 0.0,
        .hi = 180.0,
        .help = "contact angle on the part, through the liquid; 0 wets it"};
    return to;
}

/* The library's names have spaces; a dash does as well. */
static bool is_name(const char *name, const char *text)
{
    for (; *name && *text; name++, text++)
        if (*name != *text && !(*name == ' ' && *text == '-'))
            return false;
    return !*name && !*text;
}

static bool find_preset(const char *text, int32_t *preset)
{
    for (int32_t i = 0; vug_fluid_preset_name(i); i++)
        if (is_name(vug_fluid_preset_name(i), text)) {
            *preset = i;
            return true;
        }
    return false;
}

/* Puts in what was given; how many numbers that is. */
static int put_given(const vug_fluid *given, vug_fluid *fluid)
{
    const double from[] = {given->density_kg_m3, given->surface_tension_n_m,
        given->contact_angle_deg, given->yield_stress_pa, given->consistency_pa_sn,
        given->flow_index};
    double *const to[] = {&fluid->density_kg_m3, &fluid->surface_tension_n_m,
        &fluid->contact_angle_deg, &fluid->yield_stress_pa, &fluid->consistency_pa_sn,
        &fluid->flow_index};
    int count = 0;
    for (size_t i = 0; i < sizeof to / sizeof to[0]; i++)
        if (!isnan(from[i])) {
            *to[i] = from[i];
            count++;
        }
    return count;
}

int liquid_read(const tool *program, const liquid_settings *asked, liquid *out)
{
    vug_fluid *level[VUG_LEVEL_COUNT] = {&out->low, &out->typical, &out->high};
    int32_t preset = VUG_FLUID_NONE;
    int given = 0;
    if (asked->name && !find_preset(asked->name, &preset))
        return fail_usage(program, "--fluid does not know '%s'; see --help", asked->name);
    for (int32_t i = 0; i < VUG_LEVEL_COUNT; i++) {
        vug_fluid_init(level[i], sizeof *level[i]);
        if (asked->name && vug_fluid_preset(NULL, preset, i, 20.0, level[i]))
            return fail_usage(program, "--fluid: no numbers for '%s'", asked->name);
        given = put_given(&asked->given, level[i]);
    }
    snprintf(out->words, sizeof out->words, "%s%s",
        asked->name ? vug_fluid_preset_name(preset) : "water at 20 C that wets the part",
        given > 0 ? ", with the numbers given" : "");
    return GO_ON;
}
