/* SPDX-License-Identifier: MIT
 * Openings in a pose: the heights of their rims, and the columns that touch them. */
#ifndef VUGI_CAVITY_RIM_H
#define VUGI_CAVITY_RIM_H

#include "cavity/cavity.h"

#include "column/column.h"

/* Height of the highest and of the lowest point of an opening's rim in a pose: air leaves while
 * liquid is below the first, liquid leaves while it is above the second. For what is in the bore its
 * outer rim counts; for what is in the cavity behind it the governing end: the lower of the two
 * highest points, the higher of the two lowest. */
void vugi_opening_outer_rim(const vugi_opening *opening, const double up[3], double *top,
    double *lip);
void vugi_opening_rim(const vugi_opening *opening, const double up[3], double *top, double *lip);

/* Spans of columns that touch opening number index, into *span (from mem, caller frees). */
vug_status vugi_opening_spans(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, size_t index, const vugi_columns *columns, uint32_t **span,
    size_t *count);

/* After a flood of air from the governing rim of an opening: lets what is in its bore itself out over
 * its outer rim, by raising the level of the spans whose ceiling lies in the bore. */
void vugi_opening_clear_bore(const vugi_opening *opening, const double up[3],
    const vugi_columns *columns, double *level);

#endif
