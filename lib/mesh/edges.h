/* SPDX-License-Identifier: MIT
 * Edges of a mesh: its half-edges, sorted so that those of one edge stand together. */
#ifndef VUGI_MESH_EDGES_H
#define VUGI_MESH_EDGES_H

#include "mesh/mesh.h"

/* Half-edge 3 t + k runs from corner k to corner (k + 1) % 3 of triangle t. */
enum { VUGI_MAX_EDGE_TRIANGLES = 1431655764 }; /* so that 3 t + k fits 32 bits */

static inline uint32_t vugi_edge_from(const vug_mesh *mesh, uint32_t half)
{
    return mesh->triangles[half];
}

static inline uint32_t vugi_edge_to(const vug_mesh *mesh, uint32_t half)
{
    return mesh->triangles[half % 3 == 2 ? half - 2 : half + 1];
}

/* Two corners are the same vertex: such a triangle has no edges. */
static inline bool vugi_triangle_collapsed(const uint32_t t[3])
{
    return t[0] == t[1] || t[1] == t[2] || t[2] == t[0];
}

typedef struct vugi_edges {
    uint32_t *half; /* half-edges by lower vertex, then higher vertex, then number */
    size_t count;
} vugi_edges;

vug_status vugi_edges_build(vug_context *ctx, const vug_mesh *mesh, vugi_edges *edges);
void vugi_edges_free(vug_context *ctx, vugi_edges *edges);

/* First half-edge of the edge after the one that starts at place `first`. */
size_t vugi_edges_next(const vug_mesh *mesh, const vugi_edges *edges, size_t first);

/* Pairs the half-edges of all edges: other[half] is the half-edge across, or UINT32_MAX. */
vug_status vugi_edges_pair(vug_context *ctx, const vug_mesh *mesh, const vugi_edges *edges,
    uint32_t *other);

/* Triangles on the other side of each edge: other[3 t + k] is the triangle across the edge from
 * corner k to corner (k + 1) % 3 of t, or UINT32_MAX when that edge is open. At an edge of more
 * than two triangles, those are paired that follow one another around it, so that sheets that
 * only touch stay apart. other has 3 * triangle_count places. */
vug_status vugi_mesh_neighbours(vug_context *ctx, const vug_mesh *mesh, uint32_t *other);

#endif
