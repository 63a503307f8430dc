/* SPDX-License-Identifier: MIT
 * Wall thickness: samples on the skin. */
#ifndef VUGI_THICKNESS_H
#define VUGI_THICKNESS_H

#include "cavity/cavity.h"
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

/* The samples without their thickness: vertices, and points on triangles with an edge longer than
 * spacing. Vertices of walls of cavities (may be NULL) are left out. */
vug_status vugi_skin_sample_mesh(vug_context *ctx, const vug_cavities *cavities, double spacing,
    vug_thickness *t);

/* Diameter of the largest ball inside that touches the skin at point. */
double vugi_thickness_of(const vugi_tree *tree, const double point[3], const double inward[3]);

#endif
