/* SPDX-License-Identifier: MIT
 * Finding the place of a cap in a hole that is in the mesh, and planning one that is not. */
#ifndef VUGI_CAVITY_HOLE_H
#define VUGI_CAVITY_HOLE_H

#include "cavity/cavity.h"
#include "cavity/cut.h"

#include "column/column.h"
#include "mesh/mesh.h"

/* Looks from a little outside inward for the outermost plane in which the hole is closed all
 * around. *found; then cut has its plane and loop, and opening its measures. again: it was found before
 * other holes were cut, so what its bore ends on may be a cap. */
vug_status vugi_hole_place(vug_context *ctx, const vug_mesh *part, const uint32_t *other,
    const vugi_hole *hole, bool again, vugi_cut *cut, vugi_opening *opening, bool *found);

/* Plans a bore from the skin to the first of the cavities behind it. *found; then opening and bore
 * are filled. *spread: how much the wall's thickness differs over the bore. */
vug_status vugi_hole_plan(vug_context *ctx, const vug_cavities *cavities, const vugi_hole *hole,
    vugi_opening *opening, vugi_bore *bore, double *spread, bool *found);

#endif
