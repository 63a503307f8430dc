/* SPDX-License-Identifier: MIT
 * A fill as it was asked for, read and checked. */
#ifndef VUGI_FILL_JOB_H
#define VUGI_FILL_JOB_H

#include "gravity/stage.h"

#include "base/bitset.h"

typedef struct vugi_fill_job {
    vug_fill_options options;
    vug_fluid fluid;
    int32_t *role; /* of each opening */
    bool *open;    /* of each opening: whether air passes it */
    size_t inlet;  /* opening; SIZE_MAX: nothing is let in */
    vugi_stage stage;
    bool inlet_narrow;          /* poured full, it passes no air */
    bool inlet_covered;         /* the same for the inlet */
    const vugi_bitset *covered; /* openings: as soon as liquid shows, no spill; NULL: none */
    const double *start;        /* of each arc of the scene: its level at first; NULL: empty */
} vugi_fill_job;

#endif
