/* SPDX-License-Identifier: MIT
 * measure: what is gathered, and the three ways to show it. */
#ifndef EXAMPLE_MEASURE_H
#define EXAMPLE_MEASURE_H

#include "common.h"

typedef struct measured {
    const char *file;
    vug_context *ctx;
    vug_mesh *mesh;
    vug_mesh_measures measures;
    vug_shells *shells;
    vug_cavities *cavities; /* NULL: not looked for, see why */
    char why[512];          /* why the cavities are unknown, "" if they are known */
    vug_thickness *wall;    /* NULL: not measured */
    double thin_mm;         /* thinner than this is too thin; 0: not asked */
    double *thin;           /* rows of x, y, z, thickness, area */
    size_t thin_count;
} measured;

void measure_print(const measured *m);
json_t *measure_json(const measured *m);

/* A coloured PLY: outer skin grey, each cavity's wall in a colour of its own, openings
 * orange, skin over a wall that is too thin black. */
int measure_ply(const example *program, const measured *m, const char *file);

#endif
