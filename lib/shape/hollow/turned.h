/* SPDX-License-Identifier: MIT
 * A mesh turned into a pose and back. */
#ifndef VUGI_HOLLOW_TURNED_H
#define VUGI_HOLLOW_TURNED_H

#include "mesh/mesh.h"

/* A copy in the frame of basis (column/pose.h). */
vug_status vugi_turned(vug_context *ctx, const vug_mesh *mesh, const double basis[9],
    vug_mesh **out);

/* Rows of stride numbers that begin with a point, from the pose back to the part. */
void vugi_turn_back(const double basis[9], double *row, size_t count, size_t stride);

#endif
