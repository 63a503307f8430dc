/* SPDX-License-Identifier: MIT
 * Triangles of three corners in line, which collapses leave in flat faces. */
#ifndef VUGI_HOLLOW_SLIVER_H
#define VUGI_HOLLOW_SLIVER_H

#include "mesh/mesh.h"

/* Of the first count triangles of mesh, each that is lower than least, mm, gives its longest edge for the other diagonal of
 * what it makes with the neighbour there, if that is one of them, too, and both come out better. */
vug_status vugi_sliver_turn(vug_context *ctx, vug_mesh *mesh, size_t count, double least);

#endif
