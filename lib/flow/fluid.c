/* SPDX-License-Identifier: MIT
 * The fluid struct. */
#include "flow/fluid.h"

#include "flow/numbers.h"

/* Water at 20 C and 0.1 MPa: IAPWS-95, IAPWS R12-08 and IAPWS R1-76. */
static const vug_fluid water = {
    .struct_size = sizeof(vug_fluid),
    .density_kg_m3 = 998.2,
    .surface_tension_n_m = 0.07274,
    .contact_angle_deg = 0.0,
    .yield_stress_pa = 0.0,
    .consistency_pa_sn = 1.0016e-3,
    .flow_index = 1.0,
    .volatile_share = 1.0,
};

/* Air at 20 C and 0.1 MPa: density and viscosity as in any table. */
static const vug_fluid air = {.struct_size = sizeof air,
    .density_kg_m3 = 1.204,
    .consistency_pa_sn = 1.82e-5,
    .flow_index = 1.0};

const vug_fluid *vugi_air_fluid(void)
{
    return &air;
}

vug_status vug_fluid_init(vug_fluid *fluid, size_t size)
{
    return vugi_struct_init(fluid, size, &water, sizeof water);
}

vug_status vugi_fluid_read(vug_context *ctx, const char *call, const vug_fluid *fluid,
    vug_fluid *own)
{
    *own = water;
    vug_status status = vugi_struct_read(ctx, own, sizeof *own, fluid, "vug_fluid");
    if (status)
        return status;
    const vugi_limit limits[] = {
        {"fluid->density_kg_m3", own->density_kg_m3, 1.0, 30000.0},
        {"fluid->surface_tension_n_m", own->surface_tension_n_m, 0.0, 10.0},
        {"fluid->contact_angle_deg", own->contact_angle_deg, 0.0, 180.0},
        {"fluid->yield_stress_pa", own->yield_stress_pa, 0.0, 1e6},
        {"fluid->consistency_pa_sn", own->consistency_pa_sn, 1e-7, 1e7},
        {"fluid->flow_index", own->flow_index, 0.1, 2.0},
        {"fluid->volatile_share", own->volatile_share, 0.0, 1.0},
    };
    return vugi_check(ctx, call, limits, sizeof limits / sizeof limits[0]);
}
