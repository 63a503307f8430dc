/* SPDX-License-Identifier: MIT
 * How long air takes to pass a narrow place against the liquid. */
#ifndef VUGI_FLOW_WAIT_H
#define VUGI_FLOW_WAIT_H

#include "base/base.h"

/* Are the ends of a fluid's range in order about it? Either may be NULL: it has none there. */
vug_status vugi_range_check(vug_context *ctx, const vug_fluid *low, const vug_fluid *typical,
    const vug_fluid *high);

/* Seconds for a volume of air by vug_exchange_flow(), over a fluid known as a range: *wait has -1 where bubbles are
 * stuck. Its decides and share are not set. */
vug_status vugi_exchange_wait(vug_context *ctx, const vug_fluid *low, const vug_fluid *typical,
    const vug_fluid *high, double diameter_mm, double volume_mm3, vug_interval *wait);

#endif
