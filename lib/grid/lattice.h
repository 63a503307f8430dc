/* SPDX-License-Identifier: MIT
 * Equations of flow on a grid: each cell exchanges with its neighbours along x, y and z. */
#ifndef VUGI_LATTICE_H
#define VUGI_LATTICE_H

#include "base/base.h"

/* Symmetric, with links of 0 or more and a diagonal of at least their sum. */
typedef struct vugi_lattice {
    size_t count;
    uint32_t *before; /* 3 for each unknown: the one before it along x, y, z, or UINT32_MAX */
    double *link;     /* 3 for each unknown, to those */
    double *diagonal;
} vugi_lattice;

bool vugi_lattice_alloc(const vugi_allocator *mem, size_t count, vugi_lattice *lattice);
void vugi_lattice_free(const vugi_allocator *mem, vugi_lattice *lattice);

/* x with diagonal x - links x = right, by conjugate gradients with incomplete factors of the matrix as
 * preconditioner (Meijerink & van der Vorst 1977, Math. Comp. 31:148-162), from x as it comes in, until the
 * residual is tolerance times the right side's norm. VUG_ERR_CONVERGENCE: it does not come down. */
vug_status vugi_lattice_solve(vug_context *ctx, const vugi_lattice *lattice, const double *right,
    double *x, double tolerance);

#endif
