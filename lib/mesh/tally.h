/* SPDX-License-Identifier: MIT
 * Health of edges: open, shared by more than two triangles, turned differently. */
#ifndef VUGI_MESH_TALLY_H
#define VUGI_MESH_TALLY_H

#include "mesh/edges.h"

/* Adds up open, non-manifold and flipped edges of each piece and sets closed. of: piece of each
 * triangle, or NULL for one piece. */
vug_status vugi_edges_tally(vug_context *ctx, const vug_mesh *mesh, const vugi_edges *edges,
    const uint32_t *of, size_t piece_count, vug_mesh_measures *measures);

#endif
