/* SPDX-License-Identifier: MIT
 * Rays against a mesh, many of them: its triangles in the cells of a uniform grid. */
#ifndef VUGI_CAVITY_RAYGRID_H
#define VUGI_CAVITY_RAYGRID_H

#include "mesh/mesh.h"

typedef struct vugi_raygrid {
    const vug_mesh *mesh; /* borrowed */
    double lo[3], cell;
    int32_t n[3];
    uint32_t *first; /* cells + 1 */
    uint32_t *triangle;
} vugi_raygrid;

typedef struct vugi_hit {
    double distance; /* INFINITY: none */
    uint32_t triangle;
    bool out; /* the ray leaves by it: it runs with the triangle's normal */
} vugi_hit;

vug_status vugi_raygrid_build(vug_context *ctx, const vugi_allocator *mem, const vug_mesh *mesh,
    vugi_raygrid *grid);
void vugi_raygrid_free(const vugi_allocator *mem, vugi_raygrid *grid);

/* First hit beyond distance `from` of the ray from origin along a unit direction. Any number of
 * threads may ask. */
vugi_hit vugi_raygrid_hit(const vugi_raygrid *grid, const double origin[3],
    const double direction[3], double from);

#endif
