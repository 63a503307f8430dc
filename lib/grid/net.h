/* SPDX-License-Identifier: MIT
 * A closed mesh of a level surface, one vertex in each cube that the surface crosses. */
#ifndef VUGI_GRID_NET_H
#define VUGI_GRID_NET_H

#include "grid/grid.h"

#include "mesh/mesh.h"

/* Closed mesh of the surface where the field is iso, turned outward from where it is below
 * (a signed distance, negative inside). One vertex in each cube of 8 points and connected inside
 * part, at the mean of the crossings of its edges (surface net, Gibson 1998, MICCAI, LNCS
 * 1496:888-898). The region below must not reach the border of the grid: VUG_ERR_MESH. No surface at
 * all: VUG_ERR_NOT_FOUND. */
vug_status vugi_surface_net(vug_context *ctx, const vugi_grid *grid, const float *field, double iso,
    vug_mesh **out);

#endif
