/* SPDX-License-Identifier: MIT
 * An alternative while it is played through: types that the files of this room share. */
#ifndef VUGI_PLAN_VERIFY_VERIFICATION_H
#define VUGI_PLAN_VERIFY_VERIFICATION_H

#include "plan/planning.h"
#include "plan/verify/bubbles.h"
#include "plan/verify/replay.h"

typedef struct vugi_verification {
    vugi_planning *p;
    vugi_option *o;
    const bool *closed; /* of each opening: the alternative's */
    size_t *now;        /* number that each of the part's own openings has now */
    size_t steps;
    double scale;  /* from the columns' volume to the cavities' */
    double slowly; /* share that stays when turned slowly */
    vugi_bubbles_step bubbles[VUG_MAX_TURNS + 1];
    vugi_replay_step fill[VUG_MAX_TURNS + 1], drain[VUG_MAX_TURNS + 1];
} vugi_verification;

#endif
