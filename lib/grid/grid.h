/* SPDX-License-Identifier: MIT
 * Floor 2: regular grids of cells. Cell (i, j, k) stands for the point origin + h (i, j, k); its
 * number is (k ny + j) nx + i. */
#ifndef VUGI_GRID_GRID_H
#define VUGI_GRID_GRID_H

#include "base/base.h"

typedef struct vugi_grid {
    double origin[3];
    double h; /* spacing, mm */
    int32_t n[3];
} vugi_grid;

/* Grid over a box: cells along its longest side, and margin more all around. The points keep off
 * the round coordinates that modelled parts like. Errors: VUG_ERR_LIMIT (2^31 cells),
 * VUG_ERR_ARGUMENT (box empty or not finite). */
vug_status vugi_grid_fit(vug_context *ctx, const double lo[3], const double hi[3], int32_t cells,
    int32_t margin, vugi_grid *grid);

static inline size_t vugi_grid_count(const vugi_grid *grid)
{
    return (size_t)grid->n[0] * (size_t)grid->n[1] * (size_t)grid->n[2];
}

static inline size_t vugi_grid_cell(const vugi_grid *grid, int32_t i, int32_t j, int32_t k)
{
    return ((size_t)k * (size_t)grid->n[1] + (size_t)j) * (size_t)grid->n[0] + (size_t)i;
}

/* Coordinates of cell number c, in cells, and in mm. */
void vugi_grid_place(const vugi_grid *grid, size_t c, int32_t at[3]);
void vugi_grid_point(const vugi_grid *grid, size_t c, double point[3]);

/* Number of the cell nearest to a point, SIZE_MAX outside the grid. */
size_t vugi_grid_nearest(const vugi_grid *grid, const double point[3]);

#endif
