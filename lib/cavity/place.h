/* SPDX-License-Identifier: MIT
 * From the grid's view of a cavity to numbers on the mesh. */
#ifndef VUGI_CAVITY_PLACE_H
#define VUGI_CAVITY_PLACE_H

#include "cavity/cavity.h"
#include "cavity/void_types.h"

#include "mesh/mesh.h"
#include "mesh/tree.h"

/* Adds the chambers and throats of cavity number `number` of v: their places on the grid, moved to
 * where the distance to the mesh is greatest (chamber), or greatest across and least along (throat). */
vug_status vugi_places_add(vug_context *ctx, const vugi_tree *tree, const vugi_void *v,
    int32_t number, vugi_cavity *cavity);

/* Winding number of a closed mesh around p: 1 inside, 0 outside (solid angles, Van Oosterom &
 * Strackee 1983, IEEE Trans. Biomed. Eng. 30:125-126). */
double vugi_winding(const vug_mesh *mesh, const double p[3]);

#endif
