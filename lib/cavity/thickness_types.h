/* SPDX-License-Identifier: MIT
 * Wall thickness: types that thickness and skin share. */
#ifndef VUGI_CAVITY_THICKNESS_TYPES_H
#define VUGI_CAVITY_THICKNESS_TYPES_H

#include "mesh/mesh.h"
#include "mesh/tree.h"

typedef struct vugi_skin_sample {
    double point[3];
    double inward[3]; /* unit */
    double thickness;
    double area;       /* of the skin it stands for */
    uint32_t triangle; /* that it lies on, or one of those around its vertex */
} vugi_skin_sample;

struct vug_thickness {
    vugi_allocator mem;
    vug_mesh *mesh;
    vugi_tree tree;
    size_t count; /* vertices first, then points on triangles by triangle */
    vugi_skin_sample *sample;
    uint32_t *of_vertex; /* sample of each vertex, UINT32_MAX: none */
    double *vertex;      /* its thickness, -1: none */
};

#endif
