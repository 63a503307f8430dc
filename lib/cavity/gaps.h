/* SPDX-License-Identifier: MIT */
#ifndef VUGI_CAVITY_GAPS_H
#define VUGI_CAVITY_GAPS_H

#include "mesh/mesh.h"

/* A copy of mesh in which gaps of a few edges are closed. Its triangles come first, with their numbers. */
vug_status vugi_gaps_close(vug_context *ctx, const vug_mesh *mesh, vug_mesh **out);

#endif
