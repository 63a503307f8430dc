/* SPDX-License-Identifier: MIT */
#include "choices.h"

part_settings part_usual(void)
{
    return (part_settings){.mesh = mesh_usual(),
        .up = {0.0, 0.0, 1.0},
        .inlet = -1,
        .vents = {.width = 1},
        .at = {.width = 1}};
}

option *part_choices(option *to, part_settings *settings, const char *up, const char *inlet,
    const char *vent)
{
    *to++ = (option){.name = "--up",
        .value = "POSE",
        .kind = OPTION_UP,
        .target = settings->up,
        .help = up};
    *to++ = (option){.name = "--inlet",
        .value = "OPENING",
        .kind = OPTION_OPENING,
        .target = &settings->inlet,
        .help = inlet};
    *to++ = (option){.name = "--vent",
        .value = "OPENING",
        .kind = OPTION_OPENINGS,
        .target = &settings->vents,
        .help = vent};
    return mesh_choices(to, &settings->mesh);
}

option *outcome_choices(option *to, part_settings *settings, const char *picture)
{
    *to++ = (option){.name = "--picture",
        .value = "BASE",
        .kind = OPTION_TEXT,
        .target = (void *)&settings->picture,
        .help = picture};
    *to++ = (option){.name = "--at",
        .value = "MM3",
        .kind = OPTION_ROWS,
        .target = &settings->at,
        .help =
            "with --picture: draw it with that much liquid inside in place of the six moments; may "
            "be given again"};
    *to++ = (option){.name = "--json",
        .value = "FILE",
        .kind = OPTION_TEXT,
        .target = (void *)&settings->json,
        .help = "write the outcome as JSON; - for standard output"};
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
            "as many columns as N x N over the two longest sides of the cavity; 280 unless given"};
    return to;
}
