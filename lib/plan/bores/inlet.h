/* SPDX-License-Identifier: MIT
 * The first openings of a part that has none. */
#ifndef VUGI_PLAN_BORES_INLET_H
#define VUGI_PLAN_BORES_INLET_H

#include "plan/bores/site.h"
#include "plan/planning.h"

/* The first openings of a part that has none: an inlet, and another where the same pose has a place. */
vug_status vugi_plan_inlet(vugi_planning *p, vugi_site *site, size_t *sites);

#endif
