/* SPDX-License-Identifier: MIT
 * Points with equal coordinates become one vertex, numbered in order of first appearance. */
#ifndef VUGI_MESH_WELD_H
#define VUGI_MESH_WELD_H

#include "base/base.h"

typedef struct vugi_weld {
    const vugi_allocator *mem;
    double *xyz; /* rows of 3 */
    size_t count, capacity;
    uint32_t *slot; /* open addressing: 1 + vertex number, 0 is free */
    size_t mask;
} vugi_weld;

/* All memory is ctx's. expected: about how many vertices will come. */
vug_status vugi_weld_begin(vug_context *ctx, vugi_weld *weld, size_t expected);

/* Vertex number of each of count points (rows of 3, finite) into index. -0 counts as 0.
 * Errors: VUG_ERR_MEMORY, VUG_ERR_LIMIT. */
vug_status vugi_weld_points(vug_context *ctx, vugi_weld *weld, const double *xyz, size_t count,
    uint32_t *index);

/* Hands over the vertices, cut to size, and frees the rest. */
double *vugi_weld_take(vugi_weld *weld);
void vugi_weld_free(vugi_weld *weld);

#endif
