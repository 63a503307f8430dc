/* SPDX-License-Identifier: MIT
 * Floor 2: regular grids of cells. Cell (i, j, k) stands for the point origin + h (i, j, k); its
 * number is (k ny + j) nx + i. */
#ifndef VUGI_GRID_H
#define VUGI_GRID_H

#include "mesh/mesh.h"

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

/* ---- inside or outside --------------------------------------------------- */

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
 * cell and work have a place for each cell of the grid; work is scratch. */
vug_status vugi_grid_sign(vug_context *ctx, const vug_mesh *mesh, const vugi_grid *grid,
    uint8_t *cell, uint32_t *work, vugi_sign_report *report);

/* ---- distance ------------------------------------------------------------ */

/* Exact squared Euclidean distance, in cells, from each cell to the nearest cell whose value is not
 * 0 (Felzenszwalb & Huttenlocher 2012, Theory of Computing 8:415-428; integer form after Meijster,
 * Roerdink & Hesselink 2000). UINT32_MAX everywhere if there is none. invert: to the nearest 0. */
vug_status vugi_distance(vug_context *ctx, const int32_t n[3], const uint8_t *cell, bool invert,
    uint32_t *squared);

/* ---- basins and the merge tree ------------------------------------------- */

typedef struct vugi_pass { /* where two basins of the value meet */
    uint32_t a, b;         /* basins, a < b; b may be count: the outside */
    uint32_t value;        /* highest value at which they are joined */
    uint32_t cell;         /* a cell of that value on the border */
} vugi_pass;

typedef struct vugi_basins {
    size_t count;
    uint32_t *peak; /* cell of each basin's highest value */
    uint32_t *top;  /* that value */
    size_t pass_count;
    vugi_pass *pass; /* by falling value */
} vugi_basins;

/* Basins of steepest ascent of a value over the cells where it is not 0: each cell follows its
 * highest neighbour (connectivity 6 or 26; ties by cell number) up to a peak; the passes between
 * basins carry the whole merge tree (Lukasczyk et al. 2024, IEEE TVCG 30(1):1085-1094). label gets
 * the basin of each cell, UINT32_MAX where the value is 0. outside: the border of the grid is
 * one more basin, number count, higher than all. */
vug_status vugi_basins_build(vug_context *ctx, const int32_t n[3], const uint32_t *value,
    int connectivity, bool outside, uint32_t *label, vugi_basins *basins);
void vugi_basins_free(const vugi_allocator *mem, vugi_basins *basins);

typedef struct vugi_branch { /* of the merge tree: a peak, and where it joins a higher one */
    uint32_t peak, birth;    /* cell and value */
    uint32_t saddle, death;  /* UINT32_MAX and 0 when it never joins */
} vugi_branch;

/* The persistence pairs of the basins: basins->count branches, in order of basin. */
vug_status vugi_merge_tree(vug_context *ctx, const vugi_basins *basins, vugi_branch *branch);

/* ---- surface ------------------------------------------------------------- */

/* Closed mesh of the surface where the field is iso, turned outward from where it is below
 * (a signed distance, negative inside). One vertex in each cube of 8 points and connected inside
 * part, at the mean of the crossings of its edges (surface net, Gibson 1998, MICCAI, LNCS
 * 1496:888-898). The region below must not reach the border of the grid: VUG_ERR_MESH. No surface at
 * all: VUG_ERR_NOT_FOUND. */
vug_status vugi_surface_net(vug_context *ctx, const vugi_grid *grid, const float *field, double iso,
    vug_mesh **out);

#endif
