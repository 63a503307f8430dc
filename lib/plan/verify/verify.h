/* SPDX-License-Identifier: MIT
 * An alternative while it is played through. */
#ifndef VUGI_PLAN_VERIFY_VERIFY_H
#define VUGI_PLAN_VERIFY_VERIFY_H

#include "plan/planning.h"

/* Plays an alternative through and fills in its figures. */
vug_status vugi_plan_verify(vugi_planning *p, vugi_option *option);

/* How fast the first step may go: played on coarse columns. */
vug_status vugi_plan_rate(vugi_planning *p, vugi_option *option);

#endif
