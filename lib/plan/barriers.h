/* SPDX-License-Identifier: MIT
 * What holds bubbles back in a fluid: throats, and the fluid itself. */
#ifndef VUGI_PLAN_BARRIERS_H
#define VUGI_PLAN_BARRIERS_H

#include "plan/planning.h"

/* By how much paint and drilled holes are taken to be off, as a share (common practice, no source). */
#define VUGI_OFF 0.1

/* Throats and bubbles that stay put in the fluid: sets barriers and held, off_barriers and off_held. */
vug_status vugi_plan_barriers(vugi_planning *p);
void vugi_plan_barriers_free(vugi_planning *p);
double vugi_plan_locked_in(const vugi_planning *p);
uint32_t vugi_plan_barrier_cautions(const vugi_planning *p);
void vugi_plan_barrier_info(const vugi_planning *p, vug_plan_info *info);

#endif
