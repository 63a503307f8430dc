/* SPDX-License-Identifier: MIT
 * How a part is held to wash it: the poses in which it truly runs out. */
#ifndef VUGI_PLAN_VERIFY_WASH_H
#define VUGI_PLAN_VERIFY_WASH_H

#include "plan/verify/verification.h"

/* Poses of a set that are easy to hold, and the one that was asked for: they come first. */
enum { VUGI_EASY = 27 };

/* Poses for the moves of draining and their number, by drains on coarse columns: the first is the one in which raw
 * resin and the rinsing liquid run out of a full part, each further one lets out most of what is left. */
vug_status vugi_wash_choose(vugi_verification *proving);

#endif
