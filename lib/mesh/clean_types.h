/* SPDX-License-Identifier: MIT
 * What the steps of cleaning a mesh share. */
#ifndef VUGI_MESH_CLEAN_TYPES_H
#define VUGI_MESH_CLEAN_TYPES_H

#include "mesh/mesh.h"

typedef struct vugi_clean {
    vug_context *ctx;
    vug_mesh mesh;    /* a copy that the steps change; arrays from ctx */
    size_t capacity;  /* triangles there is room for */
    double tolerance; /* mm */
    bool gaps;        /* gaps are closed, also those that taking away leaves */
    vug_mesh_clean_report report;
} vugi_clean;

#endif
