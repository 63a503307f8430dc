/* SPDX-License-Identifier: MIT
 * How much the coral holds, to compare with. */
#ifndef TOOLS_CORAL_VOLUME_H
#define TOOLS_CORAL_VOLUME_H

#include "shape.h"

/* Volume of the cavity above the floor, without bores, by rays through the field: the mean of one
 * integration along each axis; *error is twice the farthest of the three from it. */
double coral_cavity_volume(const coral_shape *coral, double *error);

#endif
