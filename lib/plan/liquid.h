/* SPDX-License-Identifier: MIT
 * A fluid for a plan. */
#ifndef VUGI_PLAN_LIQUID_H
#define VUGI_PLAN_LIQUID_H

#include "base/base.h"

/* The caller's fluid (NULL: water), checked. */
vug_status vugi_plan_fluid(vug_context *ctx, const vug_fluid *given, vug_fluid *own);

#endif
