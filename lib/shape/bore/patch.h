/* SPDX-License-Identifier: MIT
 * Flat patches with holes, cut into triangles without a new point. */
#ifndef VUGI_SHAPE_PATCH_H
#define VUGI_SHAPE_PATCH_H

#include "base/base.h"

/* Loops of points in a plane, one after the other: counter-clockwise around what is to be filled,
 * clockwise around holes in it. */
typedef struct vugi_outline {
    vugi_allocator mem;
    uint32_t *id; /* vertex of each point */
    double *uv;
    size_t count, id_capacity, uv_capacity;
    uint32_t *first; /* first point of each loop; the loop that is being added begins at open */
    size_t loops, loop_capacity, open;
} vugi_outline;

void vugi_outline_clear(vugi_outline *outline);
void vugi_outline_free(vugi_outline *outline);
/* false: no memory. */
bool vugi_outline_add(vugi_outline *outline, uint32_t id, const double uv[2]);
bool vugi_outline_close(vugi_outline *outline);

/* Rows of 3 vertices, growing. */
typedef struct vugi_rows {
    vugi_allocator mem;
    uint32_t *row;
    size_t count, capacity;
} vugi_rows;

bool vugi_rows_add(vugi_rows *rows, uint32_t a, uint32_t b, uint32_t c);

/* Adds the triangles of the outline. crossing: its loops may cross; then triangles lie on each other there, but have the
 * outline's edges and its area all the same. Else VUG_ERR_MESH, where they do. Sets no message. */
vug_status vugi_patch(const vugi_outline *outline, bool crossing, vugi_rows *rows);

#endif
