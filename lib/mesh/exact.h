/* SPDX-License-Identifier: MIT
 * Signs of determinants that rounding cannot turn. */
#ifndef VUGI_MESH_EXACT_H
#define VUGI_MESH_EXACT_H

#include "base/base.h"

/* 1 if a, b, c turn counter-clockwise in the plane, -1 if clockwise, 0 if in line. Exact. */
int vugi_turn(const double a[2], const double b[2], const double c[2]);

/* Sign of the volume of tetrahedron a, b, c, d (positive when d lies behind the triangle whose
 * corners go counter-clockwise as seen from in front). 0 when rounding leaves it open. */
int vugi_side(const double a[3], const double b[3], const double c[3], const double d[3]);

#endif
