/* SPDX-License-Identifier: MIT
 * The search for the shortest sequence of poses that lets the air out. */
#ifndef VUGI_PLAN_SEARCH_TILT_H
#define VUGI_PLAN_SEARCH_TILT_H

#include "airtree/pose_set.h"
#include "plan/start.h"

enum { VUGI_MAX_TURNS = 32 };

/* A sequence of poses: pose[0] is filled, pose[1 .. turns] are turned to. */
typedef struct vugi_tilt {
    uint32_t turns;
    uint32_t pose[VUGI_MAX_TURNS + 1];
    double air[VUGI_MAX_TURNS + 1]; /* mm3 left after each */
    double effort;                  /* turns, with what the poses cost */
} vugi_tilt;

typedef struct vugi_tilt_task {
    uint32_t first; /* pose to fill in; UINT32_MAX: any */
    uint32_t last;  /* pose to end in; UINT32_MAX: any */
    uint32_t max_turns;
    uint32_t width;          /* states kept for each pose and number of turns */
    uint32_t frontier;       /* states turned on from, for each number of turns */
    double limit;            /* mm3 of air that may stay */
    double same;             /* states of a pose closer than this, mm3, are taken for one */
    double turn_step_deg;    /* bubbles come to rest on the way this often; 0: only at its end */
    double held;             /* mm3: bubbles smaller than this do not move */
    const vugi_start *start; /* what is inside already, in pose first; NULL: it is filled there */
} vugi_tilt_task;

/* best[0 .. *best_count - 1]: for each number of turns from 0 up the sequence that leaves the least
 * air, or, once within the limit, the least effort; ends there, or where turning helps no more.
 * Breadth first over states (pose, air in each of its nodes); states told apart by volume and
 * place. With no more distinct states than width and frontier the answer is the shortest there is among the
 * poses. best has max_turns + 1 places. */
vug_status vugi_tilt_search(vug_context *ctx, const vugi_pose_set *pose_set,
    const vugi_tilt_task *task, vugi_tilt *best, size_t *best_count);

/* What turning from one pose of the set to another takes, and holding it there; staying: holding it alone. In turns. */
double vugi_turn_effort(const vugi_pose_set *set, uint32_t from, uint32_t to);

#endif
