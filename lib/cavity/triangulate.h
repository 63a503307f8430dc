/* SPDX-License-Identifier: MIT
 * Ear clipping. */
#ifndef VUGI_CAVITY_TRIANGULATE_H
#define VUGI_CAVITY_TRIANGULATE_H

#include "base/base.h"

/* Triangulates a simple polygon (uv: count rows of 2, counter-clockwise) by clipping ears:
 * count - 2 rows of 3 corner numbers. VUG_ERR_MESH if it crosses itself. */
vug_status vugi_triangulate(vug_context *ctx, const double *uv, size_t count, uint32_t *triangles);

#endif
