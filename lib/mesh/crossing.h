/* SPDX-License-Identifier: MIT
 * Triangles of a mesh that cross others of it, or lie folded on a neighbour. */
#ifndef VUGI_MESH_CROSSING_H
#define VUGI_MESH_CROSSING_H

#include "mesh/tree.h"

static const double VUGI_FOLDED = -0.98;

/* Sets mark[v] to 1 for the vertices of each such triangle; *count: how many triangles. For meshes whose triangles
 * are much alike in size. Pairs are looked at of which one has a vertex that moved. */
vug_status vugi_crossing_mark(vug_context *ctx, const vug_mesh *mesh, const uint8_t *moved,
    uint8_t *mark, size_t *count);

/* What counts: a cosine of the angle between the normals of two neighbours from which on they are folded, -2: none
 * are; and how deep an edge has to go through a triangle, and away from the edges of that, to cross it. */
typedef struct vugi_crossing_rule {
    double folded, deep;
} vugi_crossing_rule;

/* Of the first count triangles of a mesh those that cross another of it, and what they cross: bad[t] gets 1. For triangles of any
 * size; tree is of the mesh. */
vug_status vugi_crossing_find(vug_context *ctx, const vug_mesh *mesh, const vugi_tree *tree,
    size_t count, const vugi_crossing_rule *rule, uint8_t *bad);

#endif
