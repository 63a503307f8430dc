/* SPDX-License-Identifier: MIT
 * The inlet of a fill in time: where it feeds, and what it lets in by a rate or a pressure. */
#ifndef VUGI_TRANSIENT_INLET_H
#define VUGI_TRANSIENT_INLET_H

#include "transient/filling_types.h"

/* The arc that the inlet feeds: the one it opens into while that is under liquid, else the surface below it. */
uint32_t vugi_inlet_fed(const vugi_filling *filling);

/* Pressure inside at the inlet as it came to be in the last step, mm over that outside. */
double vugi_inlet_inside(const vugi_filling *filling);

/* What the pressure of the syringe drives through the inlet against that inside: mm3/s. */
double vugi_inlet_driven(const vugi_filling *filling, double inside_mm);

/* What it adds to the balance of a step; false: no memory. Then what that came to. */
bool vugi_inlet_add(vugi_filling *filling, uint32_t fed);
void vugi_inlet_take(vugi_filling *filling);

#endif
