/* SPDX-License-Identifier: MIT
 * A part is turned with its openings covered, and what is in it moves: the lesser of liquid and air
 * as pieces through the other. */
#ifndef VUGI_TURN_TURN_H
#define VUGI_TURN_TURN_H

#include "course/course_types.h"
#include "gravity/scene.h"

/* Levels in a scene of what was inside at a moment, all openings closed. level: of each arc. */
vug_status vugi_turn_levels(vug_context *ctx, const vug_moment *from, vugi_scene *to,
    double *level);

/* Whether a moment is of one of these cavities; VUG_ERR_ARGUMENT: it is not. */
struct vug_cavities;
vug_status vugi_turn_check(vug_context *ctx, const struct vug_cavities *cavities,
    const vug_moment *from);

#endif
