/* SPDX-License-Identifier: MIT
 * Shells: pieces of a mesh connected by shared edges. */
#ifndef VUGI_MESH_SHELLS_H
#define VUGI_MESH_SHELLS_H

#include "mesh/edges.h"
#include "mesh/mesh.h"

struct vug_shells {
    vugi_allocator mem;
    size_t count;
    size_t triangle_count;
    uint32_t *of;    /* shell of each triangle */
    uint32_t *order; /* triangles by shell, then by number */
    size_t *first;   /* count + 1 places in order */
    vug_mesh_measures *measures;
};

/* Shell of each triangle into *of (from ctx's allocator, the caller frees it), how many into
 * *count. Numbered from 0 in order of first triangle. */
vug_status vugi_shells_number(vug_context *ctx, const vug_mesh *mesh, const vugi_edges *edges,
    uint32_t **of, uint64_t *count);

/* vug_mesh_shells() as a part of a longer call. */
vug_status vugi_shells_find(vug_context *ctx, const vug_mesh *mesh, vug_shells **out);

#endif
