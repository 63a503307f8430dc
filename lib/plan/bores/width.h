/* SPDX-License-Identifier: MIT
 * How wide the first opening of a cavity has to be. */
#ifndef VUGI_PLAN_BORES_WIDTH_H
#define VUGI_PLAN_BORES_WIDTH_H

#include "plan/bores/site.h"
#include "plan/planning.h"

/* Diameters for filling a cavity by needle, and for rinsing it through this hole alone: liquid goes out of it where air
 * comes in. */
vugi_width vugi_inlet_width(const vugi_planning *p, size_t cavity);

/* And of another, by which air comes in while liquid goes out of the first, or the other way round. */
vugi_width vugi_second_width(const vugi_planning *p);

#endif
