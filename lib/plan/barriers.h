/* SPDX-License-Identifier: MIT
 * What holds bubbles back in a fluid: throats, and the fluid itself. */
#ifndef VUGI_PLAN_BARRIERS_H
#define VUGI_PLAN_BARRIERS_H

#include "plan/planning.h"

/* Throats and bubbles that stay put in the fluid: sets barriers and held. */
vug_status vugi_plan_barriers(vugi_planning *p);
double vugi_plan_locked_in(const vugi_planning *p);
uint32_t vugi_plan_barrier_cautions(const vugi_planning *p);
void vugi_plan_barrier_info(const vugi_planning *p, vug_plan_info *info);

#endif
