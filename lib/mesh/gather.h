/* SPDX-License-Identifier: MIT
 * A mesh put together from pieces, each with its place: what files with objects, components and
 * nodes come to. */
#ifndef VUGI_MESH_GATHER_H
#define VUGI_MESH_GATHER_H

#include "mesh/mesh.h"
#include "mesh/weld.h"

typedef struct vugi_gather {
    vug_context *ctx;
    const char *name; /* of the file, for messages */
    vugi_weld weld;
    uint32_t *triangle; /* rows of 3 */
    size_t count, capacity;
    size_t pieces;
    double unit_mm; /* of the file, where it has one; else 0 */
} vugi_gather;

/* Where a piece goes: rows of 3 x 4, point = m (x, y, z, 1). */
typedef struct vugi_place3 {
    double m[3][4];
} vugi_place3;

vugi_place3 vugi_place3_scale(double factor);
/* First inner, then outer. */
vugi_place3 vugi_place3_join(const vugi_place3 *outer, const vugi_place3 *inner);

/* Adds a piece: vertices as rows of 3, changed in place; triangles as rows of 3. A place that
 * mirrors turns the triangles, so that outside stays outside. */
vug_status vugi_gather_add(vugi_gather *gather, double *xyz, size_t vertex_count,
    const uint32_t *triangles, size_t triangle_count, const vugi_place3 *place);

/* Ends the gathering: *out, or an error if there is no triangle. */
vug_status vugi_gather_end(vugi_gather *gather, vug_mesh **out);
void vugi_gather_free(vugi_gather *gather);

#endif
