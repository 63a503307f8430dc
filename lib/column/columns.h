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

/* Puts a span in the place of another. */
void vugi_columns_move_span(vugi_columns *columns, size_t from, size_t to);

/* Triangles that may cover columns within `reach` spacings of a column, of the bodies that columns were built
 * of; corners are counted over all bodies. An all-zero vugi_near may be used again and again for the same
 * bodies: it keeps balls around heaps of their triangles, in part coordinates. */
typedef struct vugi_near_triangle {
    uint32_t v[3], number; /* counted over all bodies too */
} vugi_near_triangle;
typedef struct vugi_heap_of_triangles {
    double center[3], radius;
    size_t first, count;
    uint32_t from, number; /* of the body: its first corner and triangle */
    int32_t body;
} vugi_heap_of_triangles;
typedef struct vugi_near {
    vugi_near_triangle *triangle;
    size_t count, capacity;
    const vug_mesh *const *of;
    vugi_heap_of_triangles *heap;
    size_t heap_count, heap_capacity;
} vugi_near;
bool vugi_columns_near(const vugi_allocator *mem, const vugi_bodies *bodies,
    const vugi_columns *columns, uint32_t column, double reach, vugi_near *near);

/* Finer columns in the frame of others, of those triangles alone. `turned`: what vugi_columns_build() made of
 * the same bodies, reflected or not. All of it lies within 2^14 of the new spacing. */
vug_status vugi_columns_zoom(const vugi_allocator *mem, const vugi_bodies *bodies,
    const vugi_columns *turned, const vugi_near *near, const vugi_column_grid *lattice,
    vugi_columns *columns);

/* Reflects columns without sheets in the origin of the pose, in place: what was up is down. basis is a
 * reflection afterwards; the next vugi_columns_build() makes it a rotation again. */
void vugi_columns_reflect(vugi_columns *columns);

double vugi_columns_volume(const vugi_columns *columns);

/* What volumes by columns are multiplied by, so that the whole is the true volume: 1 if they miss too much of
 * it to tell. */
double vugi_volume_scale(double true_volume, double by_columns);

#endif
