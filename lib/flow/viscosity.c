/* SPDX-License-Identifier: MIT
 * The law of a fluid: Herschel and Bulkley's. */
#include "flow/viscosity.h"

#include <assert.h>
#include <math.h>

bool vugi_fluid_is_newtonian(const vug_fluid *fluid)
{
    return fluid->yield_stress_pa == 0.0 && fluid->flow_index == 1.0;
}

void vugi_fluid_set_newtonian(vug_fluid *fluid, double viscosity_pa_s)
{
    fluid->yield_stress_pa = 0.0;
    fluid->consistency_pa_sn = viscosity_pa_s;
    fluid->flow_index = 1.0;
}

double vugi_fluid_yield(const vug_fluid *fluid)
{
    return fluid->yield_stress_pa;
}

double vugi_fluid_stress(const vug_fluid *fluid, double rate)
{
    assert(rate >= 0.0);
    return fluid->yield_stress_pa + fluid->consistency_pa_sn * pow(rate, fluid->flow_index);
}

double vugi_fluid_rate(const vug_fluid *fluid, double stress)
{
    assert(fluid->consistency_pa_sn > 0.0 && fluid->flow_index > 0.0);
    double excess = stress - fluid->yield_stress_pa;
    return excess > 0.0 ? pow(excess / fluid->consistency_pa_sn, 1.0 / fluid->flow_index) : 0.0;
}

double vugi_fluid_flowing_viscosity(const vug_fluid *fluid, double rate)
{
    assert(rate > 0.0 || fluid->flow_index == 1.0);
    return fluid->consistency_pa_sn * pow(rate, fluid->flow_index - 1.0);
}

double vugi_fluid_viscosity(const vug_fluid *fluid, double rate)
{
    double flowing = vugi_fluid_flowing_viscosity(fluid, rate);
    return vugi_fluid_is_newtonian(fluid) ? flowing : flowing + fluid->yield_stress_pa / rate;
}

vug_fluid vugi_fluid_off(const vug_fluid *fluid, double factor)
{
    vug_fluid other = *fluid;
    other.surface_tension_n_m = fmin(10.0, factor * other.surface_tension_n_m);
    other.yield_stress_pa = fmin(1e6, factor * other.yield_stress_pa);
    other.consistency_pa_sn = fmin(1e7, fmax(1e-7, factor * other.consistency_pa_sn));
    other.contact_angle_deg = fmin(180.0, factor * other.contact_angle_deg);
    return other;
}
