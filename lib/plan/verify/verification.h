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
    const bool *closed;   /* of each opening: the alternative's */
    size_t *now;          /* number that each of the part's own openings has now */
    size_t steps, washes; /* of filling; of draining */
    double scale;         /* from the columns' volume to the cavities' */
    double *held;         /* of each step and cavity: air that is held back, mm3; NULL: none is */
    double stop;          /* pace of the turns */
    double slowly;        /* mm3: the most at any pace */
    bool any;             /* within the limit at any pace */
    size_t again;         /* steps that are done again at a time */
    uint32_t repeats;     /* times that they are */
    size_t sampled;       /* so many of seen are of the steps as they are */
    /* Of each sample and cavity, to go on from there when the steps after that have changed. NULL: nothing is kept. */
    vugi_stand *kept;
    vug_cavities *off[2]; /* holes a tenth narrower, and wider; NULL: as told */
    bool off_known;
    double
        seen[VUG_PLAN_SAMPLES];   /* mm3: air left by hands that are not exact, on coarse columns */
    bool whole[VUG_PLAN_SAMPLES]; /* else that is the most that may be left */
    vugi_bubbles_step bubbles[VUG_MAX_TURNS + 1];
    /* Of an alternative with the same holes, which is washed alike; NULL: none is proved yet. */
    const struct vugi_verification *like;
    vugi_move move[VUG_MAX_TURNS + 1], down[VUG_MAX_TURNS + 1]; /* filling; draining */
    vugi_outcome fill[VUG_MAX_TURNS + 1], drain[VUG_MAX_TURNS + 1];
} vugi_verification;

#endif
