/* SPDX-License-Identifier: MIT
 * The edges of triangles that cross a height, each with the corner that it gets there. */
#ifndef VUGI_SHAPE_LEVEL_EDGES_H
#define VUGI_SHAPE_LEVEL_EDGES_H

#include "base/memory.h"

/* By the numbers of its ends, the lower one first. */
typedef struct vugi_level_edge {
    uint32_t a, b, corner;
} vugi_level_edge;

/* An all-zero one is empty. */
typedef struct vugi_level_edges {
    vugi_level_edge *edge;
    size_t count, capacity;
} vugi_level_edges;

/* Adds an edge. false: no memory. */
bool vugi_level_edges_add(const vugi_allocator *mem, vugi_level_edges *edges, uint32_t a,
    uint32_t b);

/* Puts them in order, each once. false: no memory. */
bool vugi_level_edges_sort(const vugi_allocator *mem, vugi_level_edges *edges);

/* The corner of an edge, which is there. They are in order. */
uint32_t vugi_level_edges_corner(const vugi_level_edges *edges, uint32_t a, uint32_t b);

#endif
