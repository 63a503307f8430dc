/* SPDX-License-Identifier: MIT
 * Steps played with the simulations on the part with its bores, cavity by cavity: the figures of a plan. Each call is
 * what the public ones do with the same steps. */
#ifndef VUGI_PLAN_VERIFY_REPLAY_H
#define VUGI_PLAN_VERIFY_REPLAY_H

#include "plan/verify/move.h"

/* Whether a cavity has an opening that is not closed. */
bool vugi_replay_reached(const vugi_replay *task, size_t cavity);

/* Volume of the cavities that have one, mm3: what is filled and drained is in these. */
double vugi_replay_room(const vugi_replay *task);

/* Area of their walls, mm2. */
double vugi_replay_skin(const vugi_replay *task);

/* What is inside before the first step, in the cavity of task->start, which is there. */
vug_status vugi_replay_start(vug_context *ctx, const vugi_replay *task, vug_moment **now);

/* One step in one cavity. */
struct vugi_play;
vug_status vugi_replay_step(struct vugi_play *play, const vugi_move *move, size_t k,
    vugi_outcome *outcome);

/* outcome: as made. Those of a full part, all its openings open, for the drain. */
vug_status vugi_replay_fill(vug_context *ctx, const vugi_replay *task, const vugi_move *move,
    size_t steps, vugi_outcome *outcome);
/* How far one cavity has been filled. */
typedef struct vugi_stand {
    vug_moment *now; /* what is inside; NULL: nothing yet; vug_moment_free() */
    size_t steps;    /* so many were played */
    double left;     /* mm3: air in it then */
} vugi_stand;

/* The same, each cavity from where it stands, which moves on to where it stands after `keep` steps, or before with
 * little enough air. left: of each cavity, mm3 that stay at the end, 0 where it is not filled; *whole: else the most that
 * may. */
vug_status vugi_replay_fill_from(vug_context *ctx, const vugi_replay *task, const vugi_move *move,
    size_t keep, size_t steps, vugi_outcome *outcome, vugi_stand *stand, double *left, bool *whole);
vug_status vugi_replay_drain(vug_context *ctx, const vugi_replay *task, const vugi_move *move,
    size_t steps, vugi_outcome *outcome);

/* One step of draining more: now has what is inside each cavity, NULL: it is full, and end, which may be NULL, gets what
 * is inside then, with its levels, so that several threads may go on from it. With task->brief without times: all that
 * leaves is stuck. */
vug_status vugi_replay_drain_from(vug_context *ctx, const vugi_replay *task, vug_moment *const *now,
    const vugi_move *move, vugi_outcome *outcome, vug_moment **end);

/* Highest rate in mm3/s at which nothing spills in a first step before the rest is full, by this inlet, with
 * the openings of a set covered as soon as liquid shows in them; 0: there is none. */
vug_status vugi_replay_rate(vug_context *ctx, const vugi_replay *task, const vugi_move *move,
    int32_t inlet, const vugi_bitset *shown, double *rate);

/* Of the way from lo to hi, for the progress. */
double vugi_replay_share(const vugi_replay *task, size_t cavity, size_t step, size_t steps,
    double lo, double hi);

#endif
