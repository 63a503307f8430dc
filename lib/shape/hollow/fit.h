/* SPDX-License-Identifier: MIT
 * The surface of a region, its vertices on the level itself: a wall that is nowhere thinner than asked, and
 * triangles that do not cross. */
#ifndef VUGI_HOLLOW_FIT_H
#define VUGI_HOLLOW_FIT_H

#include "shape/hollow/field.h"
#include "shape/hollow/wall.h"

/* Moves each vertex of a surface net of the field along the way to the nearest point of the mesh until it lies on the
 * level, at most a step and a half of the grid. wall (may be NULL) gets what is known of it. */
vug_status vugi_fit_vertices(vug_context *ctx, const vugi_field *field, vug_mesh *net,
    vugi_inner_wall *wall);

/* Mends what fit left: vertices go inward where the wall behind a triangle is thin (wall may be NULL), and back
 * towards where the net had them (before: its coordinates) where triangles cross. Errors: VUG_ERR_CONVERGENCE. */
vug_status vugi_fit_mend(vug_context *ctx, const double *before, vug_mesh *net,
    vugi_inner_wall *wall);

#endif
