/* SPDX-License-Identifier: MIT
 * An alternative while it is played through. */
#ifndef VUGI_PLAN_VERIFY_VERIFY_H
#define VUGI_PLAN_VERIFY_VERIFY_H

#include "plan/planning.h"

/* Decides and plays the steps of an alternative, unless that is done: air that stays, and whether it is within the
 * limit. */
vug_status vugi_plan_verify(vugi_planning *p, vugi_option *option);

/* Then its pace, and how it comes out in other hands, and all figures. What is known stays in option->proof, for those
 * that are proved after it. */
vug_status vugi_plan_prove(vugi_planning *p, vugi_option *option);

void vugi_plan_proof_free(const vugi_allocator *mem, struct vugi_verification *proof);

/* How fast the first step may go: played on coarse columns. */
vug_status vugi_plan_rate(vugi_planning *p, vugi_option *option);

#endif
