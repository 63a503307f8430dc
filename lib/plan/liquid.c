/* SPDX-License-Identifier: MIT
 * A fluid for a plan. */
#include "plan/liquid.h"

#include "flow/fluid.h"

vug_status vugi_plan_fluid(vug_context *ctx, const vug_fluid *given, vug_fluid *own);

vug_status vugi_plan_fluid(vug_context *ctx, const vug_fluid *given, vug_fluid *own)
{
    return vugi_fluid_read(ctx, "vug_plan_make", given, own);
}
