/* SPDX-License-Identifier: MIT
 * The poses to search among. */
#ifndef VUGI_PLAN_SEARCH_POSES_H
#define VUGI_PLAN_SEARCH_POSES_H

#include "plan/planning.h"

/* Candidate poses: those easy to hold, some spread evenly, and the best refined to a degree. */
vug_status vugi_poses_choose(vugi_planning *p);

#endif
