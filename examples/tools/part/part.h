/* SPDX-License-Identifier: MIT
 * A part as the programs that fill and drain it get it: mesh, pose, named holes, roles of openings. */
#ifndef TOOLS_PART_PART_H
#define TOOLS_PART_PART_H

#include "../tool/options.h"

#include <stdint.h>
#include <vug.h>

typedef struct part_settings {
    double up[3];
    number_rows holes; /* --hole: 7 numbers each */
    number_rows vents; /* --vent: an opening's number each */
    int64_t inlet;     /* --inlet: -1 when not named */
    int64_t columns;
} part_settings;

typedef struct part {
    vug_context *ctx;
    vug_cavities *cavities;
    int32_t *role; /* of each opening */
    size_t openings;
} part;

/* Loads the mesh, finds its cavities, and gives the openings their roles: all open if none is named,
 * else those not named are sealed. DONE or an exit code. */
int part_open(const tool *program, const char *file, const part_settings *settings,
    int32_t named_role, part *out);
void part_close(part *part, part_settings *settings);

#endif
