/* SPDX-License-Identifier: MIT
 * New bores: the fewest that do, one more at a time. */
#ifndef VUGI_PLAN_BORES_BORES_H
#define VUGI_PLAN_BORES_BORES_H

#include "plan/planning.h"

/* Adds alternatives with new bores. needed: the part has no opening yet. */
vug_status vugi_plan_bores(vugi_planning *p, bool needed, uint32_t turns_without);

#endif
