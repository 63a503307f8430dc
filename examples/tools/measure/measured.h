/* SPDX-License-Identifier: MIT
 * What is known about a part once it is measured. */
#ifndef TOOLS_MEASURE_MEASURED_H
#define TOOLS_MEASURE_MEASURED_H

#include <vug.h>

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

#endif
