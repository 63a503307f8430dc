/* SPDX-License-Identifier: MIT
 * Floor 0: angles, and directions spread evenly over a sphere. */
#ifndef VUGI_ANGLE_H
#define VUGI_ANGLE_H

#include <stddef.h>

#define VUGI_PI 3.14159265358979323846
#define VUGI_DEGREE (VUGI_PI / 180.0) /* in radians */
#define VUGI_RADIAN (180.0 / VUGI_PI) /* in degrees */

/* Direction `index` of `count` that share the unit sphere evenly, from +z down to -z. */
void vugi_sphere_point(size_t index, size_t count, double direction[3]);

#endif
