/* SPDX-License-Identifier: MIT
 * What is inside already, as a plan that goes on from there needs it. */
#ifndef VUGI_PLAN_VERIFY_START_H
#define VUGI_PLAN_VERIFY_START_H

#include "plan/planning.h"

/* Which cavity it is in: openings of others are closed from then on. */
vug_status vugi_start_read(vugi_planning *p);

/* How it came there, and its air in parcels for the search. */
vug_status vugi_start_find(vugi_planning *p);

#endif
