/* SPDX-License-Identifier: MIT
 * The mesh that a program is about, and its named openings, asked for alike by all programs that read one. */
#ifndef TOOLS_TOOL_MESH_H
#define TOOLS_TOOL_MESH_H

#include "options.h"

#include <vug.h>

enum { MESH_CHOICES = 2 };

typedef struct mesh_settings {
    const char *units;
    number_rows holes; /* 7 numbers each */
} mesh_settings;

mesh_settings mesh_usual(void);

/* Writes --units to *to, and --units and --hole, and returns what follows. */
option *mesh_units(option *to, const char **name);
option *mesh_choices(option *to, mesh_settings *settings);

void mesh_settings_free(mesh_settings *settings);

/* Loads the mesh in the units that were given. DONE or an exit code. */
int mesh_open(const tool *program, vug_context *ctx, const char *file,
    const mesh_settings *settings, vug_mesh **mesh);

#endif
