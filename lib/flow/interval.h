/* SPDX-License-Identifier: MIT
 * Ranges in, ranges out, and which input decides. */
#ifndef VUGI_FLOW_INTERVAL_H
#define VUGI_FLOW_INTERVAL_H

#include "base/base.h"

/* An answer over all corners of a fluid known as a range. decides: VUG_PROPERTY_. */
typedef vug_status (*vugi_of_fluid)(void *user, const vug_fluid *fluid, double *answer);
vug_status vugi_over_fluids(vug_context *ctx, const char *call, const vug_fluid *low,
    const vug_fluid *typical, const vug_fluid *high, vugi_of_fluid sum, void *user,
    vug_interval *range);

#endif
