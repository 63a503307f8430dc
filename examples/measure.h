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
    vug_cavities *cavities;    /* NULL: not looked for, see why */
    char why[512];             /* why the cavities are unknown, "" if they are known */
} measured;

void measure_print(const measured *m);
json_t *measure_json(const measured *m);

/* A coloured PLY: outer skin grey, each cavity's wall in a colour of its own, openings orange. */
int measure_ply(const example *program, const measured *m, const char *file);

#endif
