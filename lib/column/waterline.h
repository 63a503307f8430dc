/* SPDX-License-Identifier: MIT
 * The level of the liquid at points near columns. */
#ifndef VUGI_COLUMN_WATERLINE_H
#define VUGI_COLUMN_WATERLINE_H

#include "column/column.h"

/* Liquid stands in span s from its floor to middle[s]. levels: for each of count points (rows of 3,
 * part coordinates) the height along up of the surface that is nearest through the spans, so that
 * points on both sides of a waterline get one level; zhi of the columns where all is full, zlo where
 * all is dry, NaN away from the columns. Untouched on failure. */
vug_status vugi_columns_levels(vug_context *ctx, const vugi_columns *c, const double *middle,
    const double *points, size_t count, double *levels);

#endif
