/* SPDX-License-Identifier: MIT
 * Which openings paint is let in by and which are kept covered in each step of a fill, decided before it is played. */
#ifndef VUGI_PLAN_VERIFY_DECIDE_H
#define VUGI_PLAN_VERIFY_DECIDE_H

#include "plan/verify/replay.h"

typedef struct vugi_decision {
    int32_t inlet; /* asked for, or -1 */
    const double *
        least; /* of each step and cavity: air that throats or the fluid hold back, mm3; NULL: none */
    size_t given;         /* steps at the beginning that are as they are */
    const uint32_t *from; /* of each opening: the first step in which it is there; NULL: all are */
} vugi_decision;

/* The inlet by which a fill in the pose of task->start takes most, and how much that is. */
vug_status vugi_decide_start(vug_context *ctx, const vugi_replay *task, const vugi_decision *wish,
    int32_t *inlet, double *takes);

/* move: as made, with poses and stops; gets what is open and let in. outcome: what the replay of it gives. */
vug_status vugi_decide_fill(vug_context *ctx, const vugi_replay *task, const vugi_decision *wish,
    vugi_move *move, size_t steps, vugi_outcome *outcome);

#endif
