/* SPDX-License-Identifier: MIT
 * How far apart columns stand, by one rule for all calls. */
#ifndef VUGI_CAVITY_SPACING_H
#define VUGI_CAVITY_SPACING_H

#include "cavity/cavity.h"

/* The longest side of the bounds of some cavities, and the side of a square as large as the two longest make: what columns
 * across are counted along, so that they resolve the width of what is long and thin. */
typedef struct vugi_spread {
    double longest, square;
} vugi_spread;

vugi_spread vugi_cavities_spread(const struct vug_cavities *cavities, size_t first, size_t count);

/* Columns across where nobody says how many. */
enum { VUGI_ACROSS = 280 };

/* A spacing that is given for parts of any size: finer where a cavity would get too few columns. */
double vugi_spacing_within(const struct vug_cavities *cavities, size_t cavity, double spacing_mm);

/* As callers give it for cavities first .. first + count - 1: columns_across (0: as many as `usual`), or spacing_mm
 * instead, if above 0. */
vug_status vugi_read_spacing(vug_context *ctx, const struct vug_cavities *cavities, size_t first,
    size_t count, uint32_t columns_across, uint32_t usual, double spacing_mm, double *spacing);

#endif
