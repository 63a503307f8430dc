/* SPDX-License-Identifier: MIT
 * Optics of walls and films, as shares 0..1. */
#ifndef VUGI_LIGHT_H
#define VUGI_LIGHT_H

#include "flow/flow.h"

/* Kubelka and Munk: reflectance over a background, and transmittance. K, S per mm, x mm. */
double vugi_film_reflectance(double absorption, double scattering, double x, double background);
double vugi_film_transmittance(double absorption, double scattering, double x);

#endif
