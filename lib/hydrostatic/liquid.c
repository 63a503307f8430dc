/* SPDX-License-Identifier: MIT
 * The liquid of a fill, and air. */
#include "hydrostatic/liquid.h"

#include "flow/flow.h"
#include "flow/fluid.h"

const vug_fluid *vugi_air_fluid(void)
{
    static const vug_fluid air = {.struct_size = sizeof air,
        .density_kg_m3 = 1.204,
        .consistency_pa_sn = 1.82e-5,
        .flow_index = 1.0};
    return &air;
}

vug_status vugi_read_liquid(vug_context *ctx, const char *call, const vug_fluid *fluid,
    vug_fluid *own)
{
    return vugi_fluid_read(ctx, call, fluid, own);
}

double vugi_head_pressure(const vug_fluid *fluid, double mm)
{
    return fluid->density_kg_m3 * VUGI_G * mm * VUGI_MM;
}
