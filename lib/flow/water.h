/* SPDX-License-Identifier: MIT
 * Water at atmospheric pressure, temperatures in Celsius. */
#ifndef VUGI_FLOW_WATER_H
#define VUGI_FLOW_WATER_H

#include "base/base.h"

/* Water at atmospheric pressure, 0..100 C. */
double vugi_water_density(double temperature_c);
double vugi_water_viscosity(double temperature_c);
double vugi_water_tension(double temperature_c);
double vugi_water_vapour_pressure(double temperature_c); /* saturated, Pa */

#endif
