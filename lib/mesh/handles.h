/* SPDX-License-Identifier: MIT
 * How many ways lead through a body from skin to skin. */
#ifndef VUGI_MESH_HANDLES_H
#define VUGI_MESH_HANDLES_H

#include "mesh/mesh.h"

/* The genus of a closed mesh, over all of its shells: 0 of a ball, 1 of a ring or a tube. Shells that touch in a corner
 * are apart. */
vug_status vugi_mesh_handles(vug_context *ctx, const vug_mesh *mesh, size_t *count);

#endif
