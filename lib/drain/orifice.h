/* SPDX-License-Identifier: MIT
 * What a lone opening passes of a cavity that drains, and what stays on its walls. */
#ifndef VUGI_DRAIN_ORIFICE_H
#define VUGI_DRAIN_ORIFICE_H

#include "base/base.h"

/* Liquid leaves by a lone opening while air comes in by it, glug by glug, as vug_exchange_flow():
 * mm3/s, 0 below the width at which the meniscus gives way. */
double vugi_glug(const vug_fluid *fluid, double diameter_mm);

/* Mean thickness in mm of the film left on walls of a height after draining for a time: Jeffreys
 * 1930, sqrt(viscosity z / (density g t)), mean over z; at least what the yield stress holds. */
double vugi_film(const vug_fluid *fluid, double height_mm, double time_s);

/* The same at the end of a way down a wall whose slope has this sine, above 0. */
double vugi_film_at(const vug_fluid *fluid, double sine, double way_mm, double time_s);

#endif
