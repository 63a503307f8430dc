/* SPDX-License-Identifier: MIT
 * A mesh as something to walk on, up and down, in any pose: corners and edges alone, in an order in which what lies
 * close together stands close together. */
#ifndef VUGI_MESH_TERRAIN_H
#define VUGI_MESH_TERRAIN_H

#include "mesh/tree.h"

/* Where fans of triangles touch in one vertex of the mesh, each has a corner of its own there: one walks over edges. */
typedef struct vugi_terrain {
    vugi_allocator mem;
    size_t corner_count, edge_count, triangle_count;
    double *xyz; /* of each corner */
    double *
        normal; /* of each corner: those of its triangles, each by its angle there. A point above the corner of
                         which it is the nearest is outside if it lies on the normal's side (Baerentzen, Aanaes 2005) */
    uint32_t *vertex; /* of each corner, in the mesh */
    uint32_t *order;  /* of triangles: their numbers in the mesh */
    uint32_t *place;  /* of each triangle of the mesh: where it is in order */
    uint32_t *corner; /* three of each triangle, in that order, as the mesh has them */
    uint32_t *edge;   /* two corners of each */
    vugi_tree tree;   /* of the mesh, which it borrows */
    bool closed;      /* each edge has two triangles */
    bool sound;       /* and none crosses another */
} vugi_terrain;

/* Makes the terrain of a mesh and lets the mesh keep it, before others share it. */
vug_status vugi_terrain_keep(vug_context *ctx, vug_mesh *mesh);

/* NULL: nobody has made it. */
vugi_terrain *vugi_terrain_of(const vug_mesh *mesh);

#endif
