/* SPDX-License-Identifier: MIT
 * vug_shape_bore() as a part of a longer call. */
#ifndef VUGI_SHAPE_BORE_H
#define VUGI_SHAPE_BORE_H

#include "mesh/mesh.h"

vug_status vugi_bore_mesh(vug_context *ctx, const vug_mesh *mesh, const double *bores, size_t count,
    double error_mm, double *cuts, vug_mesh **out);

#endif
