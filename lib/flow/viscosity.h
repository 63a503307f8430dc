/* SPDX-License-Identifier: MIT
 * The law of a fluid: stress, rate of shear and apparent viscosity. Files above this floor ask here and never read the
 * law's own members, so that a new law changes this floor alone (tests/base/test_house.py looks).
 *
 * The law is Herschel and Bulkley's (1926): stress = yield + K rate^n above the yield stress, no flow below; n = 1 is
 * Bingham's, yield = 0 the power law, both Newton's. Pa, 1/s and Pa s. */
#ifndef VUGI_FLOW_VISCOSITY_H
#define VUGI_FLOW_VISCOSITY_H

#include "base/base.h"

/* The same viscosity at any rate? */
bool vugi_fluid_is_newtonian(const vug_fluid *fluid);
/* Makes it so; density and surface stay. */
void vugi_fluid_set_newtonian(vug_fluid *fluid, double viscosity_pa_s);

/* Stress up to which it stands still; 0: it does not stand. */
double vugi_fluid_yield(const vug_fluid *fluid);
double vugi_fluid_stress(const vug_fluid *fluid, double rate);
/* 0 up to the yield stress. The inverse of the stress. */
double vugi_fluid_rate(const vug_fluid *fluid, double stress);
/* Stress / rate. rate > 0; any, for a Newtonian fluid. */
double vugi_fluid_viscosity(const vug_fluid *fluid, double rate);
/* The same without the yield stress: of what flows already. */
double vugi_fluid_flowing_viscosity(const vug_fluid *fluid, double rate);

/* The same with all that holds it back, and bubbles in it, by a factor, as far as fluids go: tension, contact angle,
 * yield stress and consistency. */
vug_fluid vugi_fluid_off(const vug_fluid *fluid, double factor);

#endif
