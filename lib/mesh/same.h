/* SPDX-License-Identifier: MIT
 * Triangles that are there more than once. */
#ifndef VUGI_MESH_SAME_H
#define VUGI_MESH_SAME_H

#include "mesh/mesh.h"

/* A triangle's corners in order of their numbers. */
void vugi_corners_sorted(const uint32_t *triangle, uint32_t sorted[3]);

/* Of two triangles on the same corners: are they turned alike, or one over? */
bool vugi_same_turn(const uint32_t *a, const uint32_t *b);

/* Where corners belong in a table of mask + 1 places, a power of two. */
size_t vugi_corners_slot(const uint32_t sorted[3], size_t mask);

/* A power of two, and twice as many places as triangles. */
size_t vugi_corners_places(size_t triangles);

/* first: of each triangle, the first that is on the same corners and turned alike; itself where there is
 * none before it. */
vug_status vugi_mesh_first_of_like(vug_context *ctx, const vug_mesh *mesh, uint32_t *first);

/* How many are like each triangle, at the first of them, and 0 at the others, in *weight, which the caller
 * frees: what all of them do to the solid the first does for all. NULL: no triangle is there twice. */
vug_status vugi_mesh_weights(vug_context *ctx, const vug_mesh *mesh, uint32_t **weight);

#endif
