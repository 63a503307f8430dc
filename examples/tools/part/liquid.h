/* SPDX-License-Identifier: MIT
 * The liquid that a program is asked to work with: a preset, numbers, or both. */
#ifndef TOOLS_PART_LIQUID_H
#define TOOLS_PART_LIQUID_H

#include "../tool/options.h"

#include <vug.h>

enum { LIQUID_CHOICES = 7 };

/* As asked for: NaN for a number that was not given. */
typedef struct liquid_settings {
    const char *name; /* NULL: water at 20 C that wets the part */
    vug_fluid given;
} liquid_settings;

/* low and high are the ends of a preset's range; a number that was given is all three. */
typedef struct liquid {
    vug_fluid low, typical, high;
    char words[120];
} liquid;

liquid_settings liquid_unasked(void);
option *liquid_choices(option *to, liquid_settings *asked); /* --fluid, and --density to --angle */

/* GO_ON, or USAGE after a message. */
int liquid_read(const tool *program, const liquid_settings *asked, liquid *out);

#endif
