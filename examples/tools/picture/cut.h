/* SPDX-License-Identifier: MIT
 * Where a plane meets the part. */
#ifndef TOOLS_PICTURE_CUT_H
#define TOOLS_PICTURE_CUT_H

#include "drawing.h"

#include <stdbool.h>
#include <stddef.h>

/* Closed outlines of the part where the cut meets it, one after the other: points of across,
 * height; outline i has its points from first[i] to first[i + 1] - 1. Where the cut goes on in another plane they end
 * along a line, whose edges are no wall.
 * outlines_free(). false without memory. */
typedef struct cut_outlines {
    double *point;
    size_t *first;
    size_t count;
} cut_outlines;
bool picture_cut(const drawing *picture, cut_outlines *out);
bool cut_is_step(const drawing *picture, const double a[2], const double b[2]);
void outlines_free(cut_outlines *outlines);

#endif
