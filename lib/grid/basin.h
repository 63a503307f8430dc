/* SPDX-License-Identifier: MIT
 * Basins of steepest ascent, the passes between them, and the merge tree. */
#ifndef VUGI_GRID_BASIN_H
#define VUGI_GRID_BASIN_H

#include "base/base.h"

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

#endif
