/* SPDX-License-Identifier: MIT
 * From the grid's view of a cavity to numbers on the mesh. */
#ifndef VUGI_PLACE_H
#define VUGI_PLACE_H

#include "cavity/mouth.h"
#include "cavity/void.h"

/* Adds the chambers and throats of cavity number `number` of v: their places on the grid, moved to
 * where the distance to the mesh is greatest (chamber), or greatest across and least along (throat). */
vug_status vugi_places_add(vug_context *ctx, const vugi_tree *tree, const vugi_void *v,
    int32_t number, vugi_cavity *cavity);

/* Cavity number `number` of v as the grid sees it: a closed mesh of its cells, caps where it borders on
 * the outside, and those borders as openings, numbered from 0. For parts that cannot be cut. *opening is
 * from ctx's allocator. */
vug_status vugi_gridded_cavity(vug_context *ctx, const vugi_void *v, int32_t number,
    vugi_cavity *cavity, vugi_opening **opening, size_t *opening_count);

/* Winding number of a closed mesh around p: 1 inside, 0 outside (solid angles, Van Oosterom &
 * Strackee 1983, IEEE Trans. Biomed. Eng. 30:125-126). */
double vugi_winding(const vug_mesh *mesh, const double p[3]);

#endif
