/* SPDX-License-Identifier: MIT
 * A plane through columns, as rows for drawing. */
#ifndef VUGI_COLUMN_SECTION_H
#define VUGI_COLUMN_SECTION_H

#include "column/column.h"

/* Between floor and ceiling of a span: where what lies below changes into what lies above. */
typedef double (*vugi_span_middle)(const void *user, size_t span);

/* Rows of 4 for each span that the plane through point cuts, seen along direction (both in part
 * coordinates): distance to the viewer's right of point, floor, middle, ceiling. Costs no more for a
 * point that is far away. *rows is the caller's, NULL if there are none; untouched on failure. */
vug_status vugi_columns_section(vug_context *ctx, const vugi_columns *c, const double point[3],
    const double direction[3], vugi_span_middle middle, const void *user, double **rows,
    size_t *row_count);

#endif
