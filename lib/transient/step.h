/* SPDX-License-Identifier: MIT
 * How a fill in time stands, and its next step. */
#ifndef VUGI_TRANSIENT_STEP_H
#define VUGI_TRANSIENT_STEP_H

#include "transient/filling_types.h"
#include "transient/task.h"

/* Steps that a fill is cut into at least. */
enum { VUGI_STEPS = 400 };

typedef struct vugi_time_step {
    vugi_filling n;
    const vugi_transient *task;
    size_t stamped; /* events that have their time */
    double time, lag, peak;
    double sill_head; /* greatest so far, mm */
    double carry;     /* liquid let in but not in any arc yet, mm3 */
    double feeds;     /* rate in the step, mm3/s */
    double
        share; /* of the seconds of this step, those in which liquid is let in: the rest only brings what was */
    size_t steps;
    int brief;       /* steps lately that were as short as can be */
    unsigned rounds; /* most in one step that was taken */
} vugi_time_step;

/* Moves on by at most dt, to the first event in it. fed: the arc that takes what is let in, or VUGI_NONE. */
vug_status vugi_time_step_advance(vugi_time_step *pace, uint32_t fed, double dt);

/* Gives events noted since the last step their time. */
void vugi_time_step_stamp(vugi_time_step *pace);

bool vugi_time_step_open_surface(const vugi_filling *n, uint32_t arc);

/* Greatest difference of level between surfaces of one pool under open air. */
double vugi_time_step_lag(const vugi_filling *n);

/* Pa inside at the inlet, 0 or more. */
double vugi_time_step_inlet_pressure(const vugi_filling *n);

#endif
