/* SPDX-License-Identifier: MIT
 * From a border on the grid to a round bore in the mesh: the cylinder that its wall is part of. */
#ifndef VUGI_CAVITY_CYLINDER_H
#define VUGI_CAVITY_CYLINDER_H

#include "cavity/cavity.h"
#include "cavity/mouth.h"

#include "mesh/tree.h"

/* Looks around mouth->center for a wall all of whose corners are as far from one axis, all around
 * it. *found; then hole is set: placed near its outer end if it has a section there, else as if someone had named it, with its center on
 * the axis at the outer end. other: neighbours of the mesh. */
vug_status vugi_cylinder_find(vug_context *ctx, const vugi_tree *tree, const uint32_t *other,
    const vugi_mouth *mouth, vugi_hole *hole, bool *found);

#endif
