/* SPDX-License-Identifier: MIT
 * The frame of a pose. */
#ifndef VUGI_COLUMN_POSE_H
#define VUGI_COLUMN_POSE_H

#include "base/base.h"

/* From part coordinates to the pose and back. */
static inline void vugi_to_pose(const double basis[9], const double part[3], double pose[3])
{
    for (int r = 0; r < 3; r++)
        pose[r] = basis[3 * r] * part[0] + basis[3 * r + 1] * part[1] + basis[3 * r + 2] * part[2];
}
void vugi_to_part(const double basis[9], const double pose[3], double part[3]);

/* Rows x, y, up: a rotation with determinant 1. up is unit. */
void vugi_basis(const double up[3], double basis[9]);

#endif
