/* SPDX-License-Identifier: MIT
 * A closed mesh in a pose, its triangles parted at some heights, so that each lies in one slab between two. */
#ifndef VUGI_SHAPE_SLABS_H
#define VUGI_SHAPE_SLABS_H

#include "mesh/mesh.h"

/* No corner of the mesh stands nearer to a height than this: heights are moved by it where one does. */
#define VUGI_SLAB_CLEAR 1e-7

typedef struct vugi_slabs {
    vugi_allocator mem;
    double *xyz;  /* pose; those of the mesh first */
    uint32_t *on; /* of each corner: 1 + number of the height it was made at; 0: one of the mesh */
    uint32_t *triangles; /* rows of 3 */
    size_t corners, triangle_count;
    size_t xyz_capacity, on_capacity, triangle_capacity;
    double *height; /* rising */
    size_t heights;
} vugi_slabs;

/* height: rising; it is copied. Free also after a failure. */
vug_status vugi_slabs_make(vug_context *ctx, const vug_mesh *mesh, const double basis[9],
    const double *height, size_t heights, vugi_slabs *slabs);
void vugi_slabs_free(vugi_slabs *slabs);

/* Does a triangle lie above the height that its corner was made at? */
bool vugi_slabs_above(const vugi_slabs *slabs, size_t triangle, uint32_t corner);

#endif
