/* SPDX-License-Identifier: MIT
 * The exact distance transform: one axis after the other, the lower envelope of parabolas along
 * each line, in integers. */
#ifndef VUGI_GRID_DISTANCE_H
#define VUGI_GRID_DISTANCE_H

#include "base/base.h"

/* Exact squared Euclidean distance, in cells, from each cell to the nearest cell whose value is not
 * 0 (Felzenszwalb & Huttenlocher 2012, Theory of Computing 8:415-428; integer form after Meijster,
 * Roerdink & Hesselink 2000). UINT32_MAX everywhere if there is none. invert: to the nearest 0. */
vug_status vugi_distance(vug_context *ctx, const int32_t n[3], const uint8_t *cell, bool invert,
    uint32_t *squared);

#endif
