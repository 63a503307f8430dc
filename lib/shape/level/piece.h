/* SPDX-License-Identifier: MIT
 * What some triangles of a wall hold above a level, as a closed mesh: the triangles, cut there, and flat lids. */
#ifndef VUGI_SHAPE_PIECE_H
#define VUGI_SHAPE_PIECE_H

#include "mesh/terrain.h"

typedef struct vugi_wall_piece {
    const vugi_terrain *wall;
    const double *height; /* of each corner of the wall */
    const double *basis;  /* of the pose that heights are of: rows, the last is up */
    double level;         /* -INFINITY: all is above it */
    const uint32_t
        *place; /* of its triangles, in the order of the wall: none lies below the level or on it */
    size_t count;
} vugi_wall_piece;

/* The mesh, outward; no corner moves, and it holds what the divergence theorem says of the triangles above the level.
 * Where walls cross, so do its triangles. VUG_ERR_MESH: they end elsewhere than at the level, so there is no lid. */
vug_status vugi_piece_mesh(vug_context *ctx, const vugi_wall_piece *piece, vug_mesh **out);

#endif
