/* SPDX-License-Identifier: MIT
 * Options that the programs which fill and drain a part have in common. */
#ifndef TOOLS_PART_CHOICES_H
#define TOOLS_PART_CHOICES_H

#include "../tool/options.h"
#include "part.h"

enum { PART_CHOICES = 3 + MESH_CHOICES, OUTCOME_CHOICES = 3 };

/* No opening named, +z up. */
part_settings part_usual(void);

/* Each writes its options to *to and returns what follows them. */
option *part_choices(option *to, part_settings *settings, const char *up, const char *inlet,
    const char
        *vent); /* --up, --inlet, --vent, which each program words for itself, and of the mesh */
option *columns_choice(option *to, part_settings *settings);
option *outcome_choices(option *to, part_settings *settings,
    const char *picture); /* and --at, --json */

#endif
