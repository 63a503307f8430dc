/* SPDX-License-Identifier: MIT
 * Liquid or air on the move: what is in a part when it is turned, in small pieces, and where they come
 * to rest. */
#ifndef VUGI_TURN_DROPS_H
#define VUGI_TURN_DROPS_H

#include "course/course.h"

typedef struct vugi_drop {
    double volume, z;
    uint32_t span; /* of the new pose, where it is let go */
} vugi_drop;

/* The air of a moment, or its liquid, in the columns of another pose. *drop from mem, the caller frees
 * it; the volumes add up to what there is. VUG_ERR_ARGUMENT: the moment is not of this cavity. */
vug_status vugi_drops_cut(vug_context *ctx, const vugi_allocator *mem, const vug_moment *from,
    const vugi_scene *to, bool air, vugi_drop **drop, size_t *count);

/* Lets them fall, or rise if they are air, through a cavity that is full of the other and closed all
 * around. level: of each arc, at rest. */
vug_status vugi_drops_settle(vug_context *ctx, vugi_scene *scene, bool air, const vugi_drop *drop,
    size_t count, double *level);

/* Levels in a scene of what was inside at a moment, all openings closed. level: of each arc. */
vug_status vugi_turn_levels(vug_context *ctx, const vug_moment *from, vugi_scene *to,
    double *level);

/* Surfaces of one pool under air that has a way out by open mouths come to one level. Liquid that would
 * run over a sill on the way stays where it is. links: of the scene, with the outcome. */
vug_status vugi_level_out(vug_context *ctx, const vugi_scene *scene, const bool *open,
    double *level, vugi_links *links);

#endif
