/* SPDX-License-Identifier: MIT
 * Columns turned over by hand, for tests of what the library does with a part that is. */
#ifndef VUG_TEST_COLUMNS_OVER_H
#define VUG_TEST_COLUMNS_OVER_H

#include "column/column.h"

#include <stdlib.h>
#include <string.h>

/* Number of a span of column k in them. */
static inline uint32_t span_over(const vugi_columns *c, size_t k, uint32_t span)
{
    return c->first[k] + c->first[k + 1] - 1 - span;
}

/* Heights change their sign. To be freed with vugi_columns_free(&vugi_default_allocator, ...). */
static inline vugi_columns columns_over(const vugi_columns *c)
{
    size_t n = (size_t)c->nx * (size_t)c->ny;
    vugi_columns o = {.h = c->h,
        .x0 = c->x0,
        .y0 = c->y0,
        .nx = c->nx,
        .ny = c->ny,
        .count = c->count,
        .zlo = -c->zhi,
        .zhi = -c->zlo};
    memcpy(o.basis, c->basis, sizeof o.basis);
    for (int k = 6; k < 9; k++)
        o.basis[k] = -o.basis[k];
    o.first = malloc((n + 1) * sizeof *o.first);
    o.lo = malloc((c->count + 1) * sizeof *o.lo);
    o.hi = malloc((c->count + 1) * sizeof *o.hi);
    o.body = calloc(c->count + 1, sizeof *o.body);
    memcpy(o.first, c->first, (n + 1) * sizeof *o.first);
    for (size_t k = 0; k < n; k++)
        for (uint32_t s = c->first[k]; s < c->first[k + 1]; s++) {
            o.lo[span_over(c, k, s)] = -c->hi[s];
            o.hi[span_over(c, k, s)] = -c->lo[s];
        }
    return o;
}

#endif
