/* SPDX-License-Identifier: MIT
 * Turns from one pose to another. */
#ifndef VUGI_POSE_ROTATION_H
#define VUGI_POSE_ROTATION_H

#include "base/base.h"

/* Rotation of the part, in part coordinates, that brings up from `from` to `to`: unit axis and angle
 * in degrees. Half turns go about the axis nearest to x, then y. */
void vugi_rotation_between(const double from[3], const double to[3], double axis[3],
    double *angle_deg);

/* Up after the part has been turned about the axis by the angle. */
void vugi_rotation_up(const double up[3], const double axis[3], double angle_deg, double out[3]);

#endif
