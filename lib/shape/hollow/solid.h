/* SPDX-License-Identifier: MIT
 * Where a hollowed part stayed solid. */
#ifndef VUGI_HOLLOW_SOLID_H
#define VUGI_HOLLOW_SOLID_H

#include "shape/hollow/field.h"

enum { VUGI_SPOT_NUMBERS = 5 };

/* Spots farther from the cavity than twice the wall, the largest first: rows of its widest place x, y, z, how wide it is
 * there, and its volume. skin: the field of the outer surface; in: 1 for the cells of its grid that are cavity. Below
 * its floor, and where it is smaller than a cube of the wall, nothing is told. *rows is the caller's. */
vug_status vugi_solid_spots(vug_context *ctx, const vugi_field *skin, double wall,
    const uint8_t *in, double **rows, size_t *row_count);

#endif
