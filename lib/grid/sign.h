/* SPDX-License-Identifier: MIT
 * Which cells of a grid lie in the solid: winding numbers along three axes, by majority. */
#ifndef VUGI_GRID_SIGN_H
#define VUGI_GRID_SIGN_H

#include "grid/grid.h"

#include "mesh/mesh.h"

enum { VUGI_VOID = 0, VUGI_SOLID = 1, VUGI_SHEET = 2 };

typedef struct vugi_sign_report {
    uint64_t columns;  /* that meet the mesh, over the three axes */
    uint64_t leaking;  /* of those, not closed: they have no vote */
    uint64_t disputed; /* cells on which the axes disagreed */
    uint64_t sheets;   /* void cells at walls thinner than a cell */
} vugi_sign_report;

/* Sign of every cell: columns along x, y and z each cut the mesh exactly, and the majority of the
 * three winding numbers decides, so that a gap or a self-crossing spoils single columns only.
 * cell gets VUGI_VOID, VUGI_SOLID, or VUGI_SHEET: a void cell next to a wall so thin that it lies
 * between two cells; taken as solid, void cells joined by their faces never pass through a wall.
 * weight: of vugi_mesh_weights(), so that copies of a triangle cost no time; NULL: none are looked for.
 * cell and work have a place for each cell of the grid; work is scratch. */
vug_status vugi_grid_sign(vug_context *ctx, const vug_mesh *mesh, const uint32_t *weight,
    const vugi_grid *grid, uint8_t *cell, uint32_t *work, vugi_sign_report *report);

#endif
