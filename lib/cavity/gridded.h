/* SPDX-License-Identifier: MIT
 * A cavity from the cells of the grid, for parts that cannot be cut. */
#ifndef VUGI_CAVITY_GRIDDED_H
#define VUGI_CAVITY_GRIDDED_H

#include "cavity/cavity.h"
#include "cavity/void_types.h"

/* Cavity number `number` of v as the grid sees it: a closed mesh of its cells, caps where it borders on
 * the outside, and those borders as openings, numbered from 0. For parts that cannot be cut. *opening is
 * from ctx's allocator. */
vug_status vugi_gridded_cavity(vug_context *ctx, const vugi_void *v, int32_t number,
    vugi_cavity *cavity, vugi_opening **opening, size_t *opening_count);

#endif
