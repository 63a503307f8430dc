/* SPDX-License-Identifier: MIT
 * Columns pass their sills at the levels of the mesh. */
#ifndef VUGI_GRAVITY_EASE_H
#define VUGI_GRAVITY_EASE_H

#include "cavity/cavity.h"
#include "column/columns.h"
#include "column/flood.h"
#include "column/raster.h"

/* The mesh of one cavity and the bores into it, as body 0, into *bodies; bore: room for all of the cavities'. */
void vugi_cavity_bodies(const vug_cavities *cavities, size_t cavity, vugi_bore *bore,
    vugi_bodies *bodies);

/* The spans at an opening that air (or liquid) passes from, after those of *seed. */
vug_status vugi_ease_seeds(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, const vugi_opening *opening, bool liquid,
    const vugi_columns *columns, vugi_seed **seed, size_t *count, size_t *capacity);

/* Of which cavity, by which of all openings (NULL: all are open). bodies: it and the bores into it. */
typedef struct vugi_easing {
    const vug_cavities *cavities;
    size_t cavity;
    const bool *open;
    const vugi_bodies *bodies;
} vugi_easing;

/* Moves ceilings (liquid: floors) of a few spans at the sills that pockets look at closer, so that air (liquid) passes
 * there at the same level. columns: of its bodies, with the cavity's number as their body; *sharp: the sills that were
 * looked at. */
vug_status vugi_ease_sills(vug_context *ctx, const vugi_allocator *mem, const vugi_easing *of,
    bool liquid, vugi_columns *columns, vugi_sharps *sharp);

#endif
