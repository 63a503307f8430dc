/* SPDX-License-Identifier: MIT
 * What the samples of hands that are not exact say about an alternative. */
#ifndef VUGI_PLAN_VERIFY_CHANCES_H
#define VUGI_PLAN_VERIFY_CHANCES_H

#include "plan/verify/verification.h"

/* Do so many samples say enough: all of them, or half, of which none or three quarters miss the limit? more: mm3 by which
 * coarse columns see too much. */
bool vugi_chances_known(const vugi_verification *proving, size_t count, double more);

/* Plays those of the first `count` samples to the end of which the most that may be left does not say enough for the chance,
 * the price and the percentile. keep: as vugi_sample_hands() has it. */
vug_status vugi_chances_finish(vugi_verification *proving, size_t count, size_t keep, double more);

/* Into the alternative's info; *risk: what it costs, in turns, that it may miss the limit. */
vug_status vugi_chances_write(vugi_verification *proving, double *risk);

#endif
