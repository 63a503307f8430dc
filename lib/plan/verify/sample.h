/* SPDX-License-Identifier: MIT
 * The same steps done a little differently, many times, on all threads: at other paces, and by hands that are not exact. */
#ifndef VUGI_PLAN_VERIFY_SAMPLE_H
#define VUGI_PLAN_VERIFY_SAMPLE_H

#include "plan/verify/verification.h"

/* Air that stays at the end when the turns are made with these stops, mm3, on columns h apart. */
vug_status vugi_sample_paces(vugi_verification *proving, const double *stop_deg, size_t count,
    double h, double *left);

/* And with every pose held askew, VUG_PLAN_SAMPLES times, rising: left has as many places. */
vug_status vugi_sample_tilts(vugi_verification *proving, double *left);

#endif
