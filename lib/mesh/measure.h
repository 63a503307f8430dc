/* SPDX-License-Identifier: MIT
 * Volume, area and centroid by the divergence theorem; health of edges. */
#ifndef VUGI_MESH_MEASURE_H
#define VUGI_MESH_MEASURE_H

#include "mesh/edges.h"
#include "mesh/mesh.h"

/* Adds up open, non-manifold and flipped edges of each piece and sets closed. of: piece of each
 * triangle, or NULL for one piece. */
vug_status vugi_edges_tally(vug_context *ctx, const vug_mesh *mesh, const vugi_edges *edges,
    const uint32_t *of, size_t piece_count, vug_mesh_measures *measures);

/* vug_mesh_measure() as a part of a longer call. */
vug_status vugi_mesh_measure(vug_context *ctx, const vug_mesh *mesh, vug_mesh_measures *measures);

#endif
