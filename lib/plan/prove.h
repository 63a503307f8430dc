/* SPDX-License-Identifier: MIT
 * An alternative while it is played through. */
#ifndef VUGI_PROVE_H
#define VUGI_PROVE_H

#include "plan/plan.h"
#include "plan/proof.h"
#include "plan/replay.h"

typedef struct vugi_proving {
    vugi_planning *p;
    vugi_option *o;
    const bool *closed; /* of each opening: the alternative's */
    size_t *now;        /* number that each of the part's own openings has now */
    size_t steps;
    double scale;  /* from the columns' volume to the cavities' */
    double slowly; /* share that stays when turned slowly */
    vugi_proof_step proof[VUG_MAX_TURNS + 1];
    vugi_replay_step fill[VUG_MAX_TURNS + 1], drain[VUG_MAX_TURNS + 1];
} vugi_proving;

/* The inlet that was asked for, or -1. */
int32_t vugi_proving_inlet(const vugi_proving *proving);

/* The steps of the two sequences, from what the simulations say. */
vug_status vugi_proving_fill(vugi_proving *proving);
vug_status vugi_proving_drain(vugi_proving *proving);

#endif
