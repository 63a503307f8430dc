/* SPDX-License-Identifier: MIT
 * The surface of a region, its vertices on the level itself: a wall that is nowhere thinner than asked, and
 * triangles that do not cross. */
#ifndef VUGI_HOLLOW_FIT_H
#define VUGI_HOLLOW_FIT_H

#include "shape/hollow/field.h"

/* Moves each vertex of a surface net of the field along the way to the nearest point of the mesh until it lies on the
 * level, at most a step and a half of the grid. */
vug_status vugi_fit_vertices(vug_context *ctx, const vugi_field *field, vug_mesh *net);

typedef struct vugi_wall_asked {
    const vugi_tree *outer; /* from which the wall is measured */
    double wall;            /* mm; its triangles may come nearer by a tenth of a step of the grid */
} vugi_wall_asked;

/* Mends what fit left: vertices go inward where the wall behind a triangle is thin, and back towards where the net had
 * them (before: its coordinates) where triangles cross. *least_mm: nowhere in a triangle is the wall thinner.
 * asked may be NULL. Errors: VUG_ERR_CONVERGENCE. */
vug_status vugi_fit_mend(vug_context *ctx, const vugi_field *field, const vugi_wall_asked *asked,
    const double *before, vug_mesh *net, double *least_mm);

#endif
