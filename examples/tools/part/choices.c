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
