/* SPDX-License-Identifier: MIT
 * A part as the programs that fill and drain it get it: mesh, pose, named holes, roles of openings. */
#ifndef TOOLS_PART_PART_H
#define TOOLS_PART_PART_H

#include "../tool/json.h"
#include "../tool/mesh.h"

#include <stdint.h>
#include <vug.h>

typedef struct part_settings {
    mesh_settings mesh;
    double up[3];
    number_rows vents; /* --vent: an opening's number each */
    number_rows at;    /* --at: a volume in mm3 each */
    int64_t inlet;     /* --inlet: -1 when not named */
    int64_t columns;
    const char *json, *picture;
} part_settings;

typedef struct part {
    vug_context *ctx;
    vug_mesh *mesh;
    vug_cavities *cavities;
    int32_t *role; /* of each opening */
    size_t openings;
} part;

/* Loads the mesh, finds its cavities, and gives the openings their roles: all open if none is named,
 * else those not named are sealed. DONE or an exit code. */
int part_open(const tool *program, const char *file, const part_settings *settings,
    int32_t named_role, part *out);
void part_close(part *part);

/* Which openings of a cavity are not sure; nothing if all are. */
void part_print_doubt(const part *part, uint32_t cavity);

/* The other cavities of the part, which liquid in this one does not get to: as text, nothing if there is none; as JSON. */
void part_print_others(const part *part, uint32_t cavity);
json_t *part_others_json(const part *part, uint32_t cavity);
void part_settings_free(part_settings *settings);

#endif
