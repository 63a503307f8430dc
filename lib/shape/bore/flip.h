/* SPDX-License-Identifier: MIT
 * Triangles of a flat patch made as round as its points allow. */
#ifndef VUGI_SHAPE_FLIP_H
#define VUGI_SHAPE_FLIP_H

#include "base/base.h"

/* Turns inner edges of triangles first to end (rows of three points of uv, counter-clockwise) until the circle around none holds
 * a neighbour's corner: a triangle of three points almost in line stays only where no other one is possible. false: no
 * memory.
 * Source: C. L. Lawson, Transforming triangulations, Discrete Mathematics 3, 1972; constrained by the outline. */
bool vugi_flip(const vugi_allocator *mem, const double *uv, uint32_t *rows, size_t first,
    size_t end);

#endif
