/* SPDX-License-Identifier: MIT
 * Floor 1: triangle meshes. */
#ifndef VUGI_MESH_MESH_H
#define VUGI_MESH_MESH_H

#include "mesh/weld.h"

#include "base/base.h"

struct vug_mesh {
    vugi_allocator mem;
    atomic_size_t owners; /* objects that keep it; the last one to let go frees it */
    size_t vertex_count;
    size_t triangle_count;
    double *xyz;         /* vertex_count rows of 3 */
    uint32_t *triangles; /* triangle_count rows of 3, counter-clockwise from outside */
    double lo[3], hi[3];
    double unit_mm; /* mm in one unit of the file it is from; 1 where it is from none */
    void *kept;     /* what was made of it and goes with it (mesh/terrain.h), or NULL */
    void (*free_kept)(void *kept);
};

/* Takes over xyz and triangles (both from mem), as they are: no welding, no checks. Frees them
 * and returns NULL without memory. */
vug_mesh *vugi_mesh_adopt(const vugi_allocator *mem, double *xyz, size_t vertex_count,
    uint32_t *triangles, size_t triangle_count);

/* Another owner: vug_mesh_free() once more. Meshes never change, so sharing is safe. */
vug_mesh *vugi_mesh_share(const vug_mesh *mesh);

/* Standard deviation of a coordinate for being rounded to single precision, as it is in most files: of those farthest
 * from the origin. */
double vugi_mesh_grain(const vug_mesh *mesh);

double vugi_triangle_area(const vug_mesh *mesh, size_t t);

/* Its area too; normal: unit, or 0 if that is 0. */
double vugi_triangle_normal(const vug_mesh *mesh, size_t t, double normal[3]);

/* A coordinate that is not finite (VUG_ERR_MESH) or beyond VUG_MAX_COORDINATE_MM (VUG_ERR_LIMIT):
 * the message says "what number". */
vug_status vugi_mesh_check_point(vug_context *ctx, const double p[3], const char *what,
    size_t number);

/* Ends a load: vertices of weld, triangles (taken over, freed on failure) become *out. */
struct vugi_weld;
vug_status vugi_mesh_from_weld(vug_context *ctx, struct vugi_weld *weld, uint32_t *triangles,
    size_t triangle_count, vug_mesh **out);

#endif
