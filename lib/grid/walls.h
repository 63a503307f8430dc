/* SPDX-License-Identifier: MIT
 * Where a mesh cuts the lines between neighbouring cells. */
#ifndef VUGI_WALLS_H
#define VUGI_WALLS_H

#include "grid/grid.h"

#include "mesh/mesh.h"

/* Steps in a cell, and what stands for no wall. */
enum { VUGI_GAP_CELL = 250, VUGI_GAP_NONE = 255 };

/* For each cell the distances to the mesh towards the cells before and after it along x, y, z: 6 places each,
 * in steps, VUGI_GAP_NONE where the mesh does not come between. weight: of vugi_mesh_weights(), or NULL. */
vug_status vugi_grid_walls(vug_context *ctx, const vug_mesh *mesh, const uint32_t *weight,
    const vugi_grid *grid, uint8_t *gap);

#endif
