/* SPDX-License-Identifier: MIT
 * What a flood of columns keeps in, summed column by column. */
#ifndef VUG_TEST_FLOODED_H
#define VUG_TEST_FLOODED_H

#include "column/flood.h"

#include <math.h>

/* Air above the levels. */
static inline double flooded_trapped(const vugi_columns *c, const vugi_flood *f)
{
    double length = 0.0;
    for (size_t s = 0; s < c->count; s++)
        length += c->hi[s] - fmin(c->hi[s], fmax(c->lo[s], f->level[s]));
    return length * c->h * c->h;
}

/* Liquid below them. */
static inline double flooded_residue(const vugi_columns *c, const vugi_flood *f)
{
    double length = 0.0;
    for (size_t s = 0; s < c->count; s++)
        length += fmax(c->lo[s], fmin(c->hi[s], f->level[s])) - c->lo[s];
    return length * c->h * c->h;
}

#endif
