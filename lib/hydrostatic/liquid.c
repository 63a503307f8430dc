/* SPDX-License-Identifier: MIT
 * The liquid of a fill. */
#include "hydrostatic/liquid.h"

#include "flow/flow.h"
#include "flow/fluid.h"

vug_status vugi_read_liquid(vug_context *ctx, const char *call, const vug_fluid *fluid,
    vug_fluid *own)
{
    return vugi_fluid_read(ctx, call, fluid, own);
}

double vugi_head_pressure(const vug_fluid *fluid, double mm)
{
    return fluid->density_kg_m3 * VUGI_G * mm * VUGI_MM;
}
