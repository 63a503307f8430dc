/* SPDX-License-Identifier: MIT
 * From the part to the page. */
#ifndef TOOLS_PICTURE_PROJECT_H
#define TOOLS_PICTURE_PROJECT_H

#include "drawing.h"

/* Across (to the right), height (along up) and nearness (towards the viewer) of a point, the first
 * and the last counted from the cut's point, in mm. */
void picture_project(const drawing *picture, const double p[3], double to[3]);

/* How near the cut is there, counted from its point. */
double picture_cut_nearness(const drawing *picture, double across);

/* Two directions square to a way and to each other. */
void project_square(const double way[3], double x[3], double y[3]);

#endif
