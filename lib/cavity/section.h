/* SPDX-License-Identifier: MIT
 * Where a plane cuts a mesh: the closed curve around one point of it. */
#ifndef VUGI_CAVITY_SECTION_H
#define VUGI_CAVITY_SECTION_H

#include "mesh/mesh.h"

typedef struct vugi_plane {
    double center[3];
    double normal[3];  /* unit */
    double u[3], v[3]; /* in the plane; u, v, normal right-handed */
} vugi_plane;

/* A closed curve. Point i lies on the edge between triangle[i - 1] and triangle[i]. It runs so that
 * the solid is on its right: around a hole counter-clockwise seen against the normal. */
typedef struct vugi_loop {
    size_t count, capacity, point_capacity;
    uint32_t *triangle;
    double *point; /* 3 each */
    double area;   /* above 0 around a hole */
    double reach;  /* largest distance from the plane's centre */
} vugi_loop;

vugi_plane vugi_plane_at(const double center[3], const double normal[3]);
void vugi_in_plane(const vugi_plane *plane, const double p[3], double uv[2]);

/* Signed distance of a vertex; exact zero counts as above, so no vertex is on the plane. */
double vugi_above(const vugi_plane *plane, const double p[3]);

/* The smallest hole-like loop around the plane's centre that stays within reach of it. other: the
 * neighbours of mesh. *found tells whether there is one. near_list: triangles worth looking at
 * (NULL: all). */
vug_status vugi_section_hole(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    const uint32_t *near_list, size_t near_count, const vugi_plane *plane, double reach,
    vugi_loop *loop, bool *found);

void vugi_loop_free(const vugi_allocator *mem, vugi_loop *loop);

#endif
