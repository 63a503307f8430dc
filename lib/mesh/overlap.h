/* SPDX-License-Identifier: MIT
 * Shells that come through others. */
#ifndef VUGI_MESH_OVERLAP_H
#define VUGI_MESH_OVERLAP_H

#include "mesh/mesh.h"
#include "mesh/shells.h"

/* through[s] gets 1 for each shell that has a triangle which crosses another of the mesh, or which another crosses. */
vug_status vugi_shells_overlap(vug_context *ctx, const vug_mesh *mesh, const vug_shells *shells,
    uint8_t *through);

#endif
