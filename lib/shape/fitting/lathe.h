/* SPDX-License-Identifier: MIT
 * Solids around the axis of a bore. */
#ifndef VUGI_SHAPE_LATHE_H
#define VUGI_SHAPE_LATHE_H

#include "shape/bore/tool.h"

#include "mesh/mesh.h"

/* A body of revolution with the sides of a bore's polygon: rings is count rows of radius and w, from lo to
 * hi, the first and the last closed by a flat end. frame: where it stands. */
vug_status vugi_lathe(vug_context *ctx, const vugi_tool *frame, const double *rings, size_t count,
    uint32_t sides, vug_mesh **out);

#endif
