/* SPDX-License-Identifier: MIT
 * Meshes in a pose to columns of spans. */
#ifndef VUGI_COLUMN_COLUMNS_H
#define VUGI_COLUMN_COLUMNS_H

#include "column/column.h"

/* Column of each span: of[count]. */
void vugi_columns_of_spans(const vugi_columns *c, uint32_t *of);

/* An all-zero vugi_columns is empty and may be built again and again, then freed. up is unit.
 * h: spacing in mm. Errors: VUG_ERR_MEMORY, VUG_ERR_LIMIT. Uses one thread, does not step
 * progress: callers run many at once. ctx gets the message, NULL in worker threads. */
vug_status vugi_columns_build(vug_context *ctx, const vugi_allocator *mem,
    const vugi_bodies *bodies, const double up[3], double h, vugi_columns *columns);

/* Columns that stand where the caller says: for pictures. basis: rows of a rotation, the last along
 * the columns. Nothing of the bodies may be further than 2^14 spacings from any column, across. */
typedef struct vugi_column_grid {
    double basis[9], x0, y0, h;
    int32_t nx, ny;
} vugi_column_grid;
vug_status vugi_columns_build_on(vug_context *ctx, const vugi_allocator *mem,
    const vugi_bodies *bodies, const vugi_column_grid *lattice, vugi_columns *columns);
void vugi_columns_free(const vugi_allocator *mem, vugi_columns *columns);

/* Reflects columns without sheets in the origin of the pose, in place: what was up is down. basis is a
 * reflection afterwards; the next vugi_columns_build() makes it a rotation again. */
void vugi_columns_reflect(vugi_columns *columns);

double vugi_columns_volume(const vugi_columns *columns);

/* What volumes by columns are multiplied by, so that the whole is the true volume: 1 if they miss too much of
 * it to tell. */
double vugi_volume_scale(double true_volume, double by_columns);

#endif
