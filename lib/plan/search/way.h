/* SPDX-License-Identifier: MIT
 * Air on the way of a turn from one candidate pose to another. */
#ifndef VUGI_PLAN_SEARCH_WAY_H
#define VUGI_PLAN_SEARCH_WAY_H

#include "airtree/pose_set.h"

/* How a part is turned. */
typedef struct vugi_manner {
    double step_deg; /* bubbles come to rest on the way this often; 0: only at its end */
    double held;     /* mm3: bubbles smaller than this do not move */
} vugi_manner;

/* Air before a turn. */
typedef struct vugi_leaving {
    uint32_t pose;
    const vugi_parcel *parcel;
    size_t count;
} vugi_leaving;

/* Air that has come to rest on a way, in a pose, after it had in another on the way before. */
typedef struct vugi_rest {
    uint32_t before, pose; /* before: number of the other; UINT32_MAX: none */
    vugi_parcel *parcel;
    size_t count;
} vugi_rest;

/* All such of one state of air: ways from it begin alike. All zero to start with. */
typedef struct vugi_rests {
    vugi_leaving from;
    vugi_rest *rest;
    size_t count, capacity;
} vugi_rests;

void vugi_rests_free(const vugi_allocator *mem, vugi_rests *rests);

/* Lets air go in pose `to`, into room->rising, by way of the candidate poses nearest to the way. rests: those of a thread,
 * kept while it goes on from the same air. false: no memory. */
bool vugi_way_arrive(const vugi_allocator *mem, const vugi_pose_set *set, vugi_manner manner,
    const vugi_leaving *from, uint32_t to, vugi_rests *rests, vugi_air_room *room, vugi_air *air);

#endif
