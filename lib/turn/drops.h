/* SPDX-License-Identifier: MIT
 * Liquid or air on the move: what is in a part when it is turned, in small pieces, and where they come
 * to rest. */
#ifndef VUGI_TURN_DROPS_H
#define VUGI_TURN_DROPS_H

#include "course/course_types.h"
#include "gravity/scene.h"

typedef struct vugi_drop {
    double volume, z;
    uint32_t span; /* of the new pose, where it is let go */
} vugi_drop;

/* The air of a moment, or its liquid, in the columns of another pose. *drop from mem, the caller frees
 * it; the volumes add up to what there is. VUG_ERR_ARGUMENT: the moment is not of this cavity. */
vug_status vugi_drops_cut(vug_context *ctx, const vugi_allocator *mem, const vug_moment *from,
    const vugi_scene *to, bool air, vugi_drop **drop, size_t *count);

/* So much from everywhere alike. */
vug_status vugi_drops_even(vug_context *ctx, const vugi_allocator *mem, const vugi_scene *to,
    double volume, vugi_drop **drop, size_t *count);

/* So much from points of the part, 3 each, in equal parts. VUG_ERR_NOT_FOUND: one is not near the cavity. */
vug_status vugi_drops_at(vug_context *ctx, const vugi_allocator *mem, const vugi_scene *to,
    const double *point, size_t points, double volume, vugi_drop **drop, size_t *count);

#endif
