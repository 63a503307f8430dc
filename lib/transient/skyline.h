/* SPDX-License-Identifier: MIT
 * Systems of equations of which each row has few entries, near the diagonal, and a place in row and column alike. */
#ifndef VUGI_TRANSIENT_SKYLINE_H
#define VUGI_TRANSIENT_SKYLINE_H

#include "base/base.h"

typedef struct vugi_skyline {
    size_t rows, row_room, value_room;
    uint32_t *first; /* of each row: its first column, and of that column its first row */
    size_t *
        start; /* of each row: where it is in value, followed by its column; the diagonal ends both */
    double *value;
} vugi_skyline;

/* Room for the rows whose first columns are set; false: no memory. */
bool vugi_skyline_rows(const vugi_allocator *mem, vugi_skyline *m, size_t rows);
bool vugi_skyline_values(const vugi_allocator *mem, vugi_skyline *m);
void vugi_skyline_free(const vugi_allocator *mem, vugi_skyline *m);

static inline double *vugi_skyline_row(const vugi_skyline *m, size_t i)
{
    return m->value + m->start[i];
}

/* Of that number too, from its first row on; its last entry is not used. */
static inline double *vugi_skyline_column(const vugi_skyline *m, size_t i)
{
    return m->value + m->start[i] + (i - m->first[i] + 1);
}

static inline double *vugi_skyline_at(const vugi_skyline *m, size_t row, size_t column)
{
    return row >= column ? vugi_skyline_row(m, row) + (column - m->first[row])
                         : vugi_skyline_column(m, column) + (row - m->first[column]);
}

/* Factors take the place of the matrix, no row of which needs to give way to another; x becomes the answer. */
void vugi_skyline_solve(vugi_skyline *m, double *x);

#endif
