/* SPDX-License-Identifier: MIT
 * A hole that is to be made, and where the cut meets it. */
#ifndef TOOLS_PICTURE_NEWHOLE_H
#define TOOLS_PICTURE_NEWHOLE_H

#include "drawing.h"

#include <vug.h>

/* Where an opening is, which way it leads out and how wide; how deep, if it is not in the mesh yet. */
void newhole_take(const vug_opening_info *opening, picture_mark *mark);

/* Corners of the section of a drill so much wider, down to a depth and out by a radius, for skin may slant: rows of
 * across, height; how many, 0: the cut misses it, or the hole is in the mesh. */
enum { NEWHOLE_CORNERS = 64 };
size_t newhole_section(const drawing *picture, const picture_mark *mark, double wider_mm,
    double deep_mm, double corners[2 * NEWHOLE_CORNERS]);

#endif
