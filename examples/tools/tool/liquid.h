/* SPDX-License-Identifier: MIT
 * A liquid by its name and by its numbers, asked for alike by all programs that have one. */
#ifndef TOOLS_TOOL_LIQUID_H
#define TOOLS_TOOL_LIQUID_H

#include "tool.h"

#include <vug.h>

enum { LIQUID_CHOICES = 8 };

/* What was given; NULL and NAN: not. */
typedef struct liquid_settings {
    const char *name;
    double temperature_c;
    double property[VUG_PROPERTY_COUNT];
} liquid_settings;

/* low and high are the ends of a preset's range; a number that was given is all three. */
typedef struct known_liquid {
    vug_fluid low, typical, high;
    const char *name; /* the preset's; NULL: it is none */
    char words[120];
} known_liquid;

/* Nothing given. */
liquid_settings liquid_usual(void);

/* Writes --liquid to --angle to *to and returns what follows them. */
option *liquid_choices(option *to, liquid_settings *settings);

/* The number of the preset of that name, '-' standing for ' ' if wanted; -1: there is none. */
int liquid_number(const char *name);

/* The preset called name, of the option that asked for it. DONE or an exit code. */
int liquid_by_name(const tool *program, const char *asked_by, const char *name,
    double temperature_c, known_liquid *out);

/* The liquid that was asked for: the preset or water at 20 C, then each number given. */
int liquid_read(const tool *program, const liquid_settings *settings, known_liquid *out);

#endif
