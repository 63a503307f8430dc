/* SPDX-License-Identifier: MIT
 * What is inside a part before the plan begins. */
#ifndef VUGI_PLAN_START_H
#define VUGI_PLAN_START_H

#include "airtree/air.h"

typedef struct vugi_start {
    bool given;        /* else all is empty */
    bool unseen;       /* where the air is was not said, and no fill in that pose takes as much */
    double up[3];      /* how it is held */
    double liquid;     /* mm3; 0: as much as a fill by the inlet takes */
    const double *air; /* points where it is seen, 3 each; borrowed */
    size_t air_count;
    size_t cavity;
    int32_t inlet;       /* by which a fill in that pose comes to it; -1: vug_moment_make() does */
    vugi_parcel *parcel; /* air on the columns of the search, that of unreached cavities too */
    size_t parcels;
} vugi_start;

#endif
