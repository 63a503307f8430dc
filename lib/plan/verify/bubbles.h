/* SPDX-License-Identifier: MIT
 * Playing a sequence of poses through, with each turn in small steps. */
#ifndef VUGI_PLAN_VERIFY_BUBBLES_H
#define VUGI_PLAN_VERIFY_BUBBLES_H

#include "airtree/air.h"
#include "airtree/barrier.h"
#include "cavity/cavity.h"
#include "plan/start.h"

typedef struct vugi_bubbles_step {
    double trapped; /* air left, mm3 */
    double travel;  /* the longest way of a bubble in this step, straight, mm */
    double bubble;  /* volume of the smallest that counts among them, mm3 */
} vugi_bubbles_step;

typedef struct vugi_bubbles_task {
    const vug_cavities *cavities;
    const bool *closed; /* of each opening */
    const vugi_barriers *barriers;
    double held;      /* mm3: bubbles smaller than this do not move */
    const double *up; /* 3 each, unit */
    size_t steps;
    double h;
    double turn_step_deg; /* turns are cut into steps of at most this; 0: at once */
    const vugi_start
        *start;        /* what is inside already, in the first pose; NULL: it is filled there */
    double *by_cavity; /* gets the air left in each cavity after each step, mm3; NULL: not wanted */
} vugi_bubbles_task;

/* Whether throats or the fluid, bubbles up to held mm3, keep back what counts in a room of so many mm3. */
bool vugi_holds_back(const vugi_barriers *barriers, double held, double room);

/* step has task->steps places. All openings are covered while the part is turned. */
vug_status vugi_bubbles_run(vug_context *ctx, const vugi_bubbles_task *task,
    vugi_bubbles_step *step, double *capacity);

#endif
