/* SPDX-License-Identifier: MIT
 * The sums of the bench for an alternative: washing, curing, the needle, air to seal in, drying, plugs. */
#ifndef VUGI_PLAN_VERIFY_BENCH_H
#define VUGI_PLAN_VERIFY_BENCH_H

#include "plan/verify/verification.h"

/* Raw resin as a part is drained of it. */
vug_status vugi_bench_resin(vug_context *ctx, vug_fluid *raw);

/* Into the alternative's info, once its steps are known. */
vug_status vugi_bench_sums(vugi_verification *s);

/* Until so much water has dried out of a cavity by its widest opening, s; 0: there is none. closed: of each opening. */
double vugi_bench_dry(const vug_cavities *cavities, const bool *closed, size_t cavity,
    double water);

#endif
