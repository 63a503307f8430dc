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

#endif
