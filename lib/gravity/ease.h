/* SPDX-License-Identifier: MIT
 * Columns pass their sills at the levels of the mesh. */
#ifndef VUGI_GRAVITY_EASE_H
#define VUGI_GRAVITY_EASE_H

#include "cavity/cavity.h"
#include "column/columns.h"
#include "gravity/stage.h"

/* The mesh of one cavity and the bores into it, as body 0, into *bodies; bore: room for all of the cavities'. */
void vugi_cavity_bodies(const vug_cavities *cavities, size_t cavity, vugi_bore *bore,
    vugi_bodies *bodies);

/* The spans at an opening that air (or liquid) passes from, after those of *seed. */
vug_status vugi_ease_seeds(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, const vugi_opening *opening, bool liquid,
    const vugi_columns *columns, vugi_seed **seed, size_t *count, size_t *capacity);

/* Moves ceilings (liquid: floors) of a few spans at the sills that pockets look at closer, so that air (liquid) passes
 * there at the same level. bodies: of the stage's cavity; columns: of them, with its number as their body; *sharp:
 * the sills that were looked at. */
vug_status vugi_ease_sills(vug_context *ctx, const vugi_allocator *mem, const vugi_stage *stage,
    const vugi_bodies *bodies, bool liquid, vugi_columns *columns, vugi_sharps *sharp);

#endif
