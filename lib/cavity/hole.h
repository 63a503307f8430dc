/* SPDX-License-Identifier: MIT
 * An opening of a hole that is in the mesh. */
#ifndef VUGI_CAVITY_HOLE_H
#define VUGI_CAVITY_HOLE_H

#include "cavity/cavity.h"
#include "cavity/wall.h"

#include "column/column.h"
#include "mesh/mesh.h"

/* Finds the hole in the mesh: looks from a little outside inward for the outermost plane in which it is
 * closed all around, and grows its wall from there to the rim and the mouth. *found; then wall is set,
 * and opening has its measures. */
vug_status vugi_hole_place(vug_context *ctx, const vug_mesh *part, const uint32_t *other,
    const vugi_hole *hole, vugi_wall *wall, vugi_opening *opening, bool *found);

/* Do two named bores come so close to each other at the skin that they may leave by one rim? */
bool vugi_holes_meet(const vugi_hole *p, const vugi_hole *q);

/* The opening of those of some named bores that share a rim on the skin with the first, the widest of them. around: of each,
 * whether it does. *found: any does. */
vug_status vugi_hole_join(vug_context *ctx, const vug_mesh *part, const uint32_t *other,
    const vugi_hole *const *hole, size_t count, vugi_wall *wall, vugi_opening *opening,
    bool *around, bool *found);

#endif
