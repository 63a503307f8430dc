/* SPDX-License-Identifier: MIT
 * The part from outside. */
#ifndef TOOLS_PICTURE_OUTSIDE_H
#define TOOLS_PICTURE_OUTSIDE_H

#include "drawing.h"

#include <stdbool.h>

/* The part from outside as an image of width x height pixels of 32 bits, alpha first, for Cairo:
 * the point (left, top) in mm is the upper left corner. false without memory. */
bool picture_outside(const drawing *picture, double left, double top, double pixels_per_mm,
    int width, int height, int stride, unsigned char *pixels);

#endif
