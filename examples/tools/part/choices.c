/* SPDX-License-Identifier: MIT */
#include "choices.h"

part_settings part_usual(void)
{
    return (part_settings){.up = {0.0, 0.0, 1.0},
        .inlet = -1,
        .holes = {.width = 7},
        .vents = {.width = 1}};
}

option *part_choices(option *to, part_settings *settings, const char *up, const char *inlet,
    const char *vent)
{
    *to++ = (option){.name = "--up",
        .value = "X,Y,Z",
        .kind = OPTION_ROW,
        .target = settings->up,
        .row = 3,
        .help = up};
    *to++ = (option){.name = "--inlet",
        .value = "N",
        .kind = OPTION_WHOLE,
        .target = &settings->inlet,
        .lo = 0,
        .hi = VUG_MAX_OPENINGS - 1,
        .help = inlet};
    *to++ = (option){.name = "--vent",
        .value = "N",
        .kind = OPTION_ROWS,
        .target = &settings->vents,
        .help = vent};
    *to++ = (option){.name = "--hole",
        .value = "X,Y,Z,DX,DY,DZ,D",
        .kind = OPTION_ROWS,
        .target = &settings->holes,
        .help = "an opening at a point, with its direction outward and its diameter; may be given "
                "again"};
    return to;
}

option *fluid_choices(option *to, vug_fluid *fluid)
{
    *to++ = (option){.name = "--density",
        .value = "KG/M3",
        .kind = OPTION_NUMBER,
        .target = &fluid->density_kg_m3,
        .lo = 1.0,
        .hi = 30000.0,
        .help = "of the liquid; water at 20 C unless given"};
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
        .help = "contact angle on the part; 0, which wets it, unless given"};
    return to;
}

option *columns_choice(option *to, part_settings *settings)
{
    *to++ = (option){.name = "--columns",
        .value = "N",
        .kind = OPTION_WHOLE,
        .target = &settings->columns,
        .lo = 8,
        .hi = VUG_MAX_COLUMNS_ACROSS / 2,
        .help =
            "columns along the longest side of the cavity; unless given as many as 280 x 280 over "
            "its two longest sides"};
    return to;
}
