/* SPDX-License-Identifier: MIT
 * Systems of equations with a symmetric positive matrix of which each row has few entries, near the diagonal. */
#ifndef VUGI_DRAIN_SKYLINE_H
#define VUGI_DRAIN_SKYLINE_H

#include "base/base.h"

typedef struct vugi_skyline {
    size_t rows, row_room, value_room;
    uint32_t *first; /* of each row: its first column */
    size_t *start;   /* of each row: where that is in value; the diagonal is its last */
    double *value;
} vugi_skyline;

/* Room for the rows whose first columns are set; false: no memory. */
bool vugi_skyline_rows(const vugi_allocator *mem, vugi_skyline *m, size_t rows);
bool vugi_skyline_values(const vugi_allocator *mem, vugi_skyline *m);
void vugi_skyline_free(const vugi_allocator *mem, vugi_skyline *m);

/* The entry of a row at a column up to its own. */
double *vugi_skyline_at(const vugi_skyline *m, size_t row, size_t column);

/* Cholesky's factors take the place of the matrix; x becomes the answer. */
void vugi_skyline_solve(vugi_skyline *m, double *x);

#endif
