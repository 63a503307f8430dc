/* SPDX-License-Identifier: MIT
 * What the maker has to do at each step of an alternative. */
#ifndef VUGI_PLAN_VERIFY_STEPS_H
#define VUGI_PLAN_VERIFY_STEPS_H

#include "plan/verify/verification.h"

/* The inlet that was asked for, or -1. */
int32_t vugi_steps_inlet(const vugi_verification *proving);

/* The steps of the two sequences, from what the simulations say. */
vug_status vugi_steps_fill(vugi_verification *proving);
vug_status vugi_steps_drain(vugi_verification *proving);

#endif
