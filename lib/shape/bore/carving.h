/* SPDX-License-Identifier: MIT
 * A mesh that is being carved: what is taken away is marked, what comes is added at the end. */
#ifndef VUGI_SHAPE_CARVING_H
#define VUGI_SHAPE_CARVING_H

#include "mesh/mesh.h"

#define VUGI_CARVED UINT32_MAX

typedef struct vugi_carving {
    vugi_allocator mem;
    double *xyz;
    size_t vertex_count, vertex_capacity;
    uint32_t *triangle; /* rows of 3; what is taken away begins with VUGI_CARVED */
    size_t triangle_count, triangle_capacity;
    size_t first_vertices, first_triangles; /* of the mesh it began as */
} vugi_carving;

/* false: no memory. */
bool vugi_carving_begin(vugi_carving *carving, const vugi_allocator *mem, const vug_mesh *mesh);
void vugi_carving_free(vugi_carving *carving);

/* What is left, in order, less vertices that no triangle has any more. */
vug_status vugi_carving_end(vug_context *ctx, vugi_carving *carving, vug_mesh **out);

#endif
