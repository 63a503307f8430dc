/* SPDX-License-Identifier: MIT
 * Columns pass their sills at the levels of the mesh. */
#ifndef VUGI_GRAVITY_EASE_H
#define VUGI_GRAVITY_EASE_H

#include "cavity/cavity.h"
#include "column/columns.h"

/* The mesh of one cavity and the bores into it, as body 0, into *bodies; bore: room for all of the cavities'. */
void vugi_cavity_bodies(const vug_cavities *cavities, size_t cavity, vugi_bore *bore,
    vugi_bodies *bodies);

/* Moves ceilings and floors of a few spans at the sills that pockets look at closer, so that air and liquid pass there
 * at the same level. columns: of this cavity and these bodies, with its number as their body. */
vug_status vugi_ease_sills(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, size_t cavity, const vugi_bodies *bodies, vugi_columns *columns);

#endif
