/* SPDX-License-Identifier: MIT
 * A sequence of poses played with the fill simulation on the part with its bores, cavity by cavity: the
 * figures of a plan. */
#ifndef VUGI_PLAN_VERIFY_REPLAY_H
#define VUGI_PLAN_VERIFY_REPLAY_H

#include "base/bitset.h"
#include "cavity/cavity.h"

typedef struct vugi_feed { /* into one cavity */
    int32_t inlet;
    double moved;
} vugi_feed;

typedef struct vugi_replay_step {
    double moved;   /* mm3: liquid that goes in; draining: that runs out */
    double left;    /* air that stays; draining: liquid */
    double cut_off; /* of that, air with an opening that no liquid drives it to */
    double time;    /* s, draining: until the flow ends; -1: it does not run by itself */
    double wait
        [3]; /* s, filling: for air and paint to pass each other in throats, typical, low, high; -1: never */
    int32_t inlet;    /* opening by which most goes in, or -1 */
    vugi_feed *feed;  /* of each cavity, filling only */
    vugi_bitset vent; /* openings by which air leaves; empty after draining */
} vugi_replay_step;

typedef struct vugi_replay {
    const vug_cavities *cavities;
    const bool *closed; /* of each opening */
    int32_t inlet;      /* asked for, or -1 */
    const vug_fluid *fluid;
    const vug_fluid *fluid_low, *fluid_high; /* the ends of its range, or NULL */
    const double *up; /* 3 each, unit: of the fill; draining takes them upside down */
    size_t steps;
    double h;
    double turn_step_deg; /* turns are cut into steps of at most this; 0: at once */
} vugi_replay;

/* step has task->steps places, to be freed also after a failure. Openings are covered while the part is
 * turned, and freed then. */
vug_status vugi_replay_fill(vug_context *ctx, const vugi_replay *task, vugi_replay_step *step);
vug_status vugi_replay_drain(vug_context *ctx, const vugi_replay *task, vugi_replay_step *step);
void vugi_replay_step_free(const vugi_allocator *mem, vugi_replay_step *step);

/* Volume of the cavities that have an opening, mm3: what is drained is in these. */
double vugi_replay_room(const vugi_replay *task);

/* Highest rate in mm3/s at which nothing spills in the first pose before the rest is full, by the inlet
 * asked for, with some openings covered as soon as liquid shows in them; 0: there
 * is none. */
vug_status vugi_replay_rate(vug_context *ctx, const vugi_replay *task, const uint32_t *cover,
    size_t cover_count, double *rate);

#endif
