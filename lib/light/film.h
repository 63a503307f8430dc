/* SPDX-License-Identifier: MIT
 * Paint films after Kubelka and Munk 1931, written so that neither no absorption nor no scattering
 * nor a thick film divides by zero or overflows: with A = K + S, B = sqrt(K (K + 2 S)), e = exp(-2
 * B x) and q = (1 - e)/B, R = (S q - Rg (A q - 1 - e)) / ((A - Rg S) q + 1 + e), T = 2 sqrt(e) / (A
 * q + 1 + e). */
#ifndef VUGI_LIGHT_FILM_H
#define VUGI_LIGHT_FILM_H

#include "base/base.h"

/* Kubelka and Munk: reflectance over a background, and transmittance. K, S per mm, x mm. */
double vugi_film_reflectance(double absorption, double scattering, double x, double background);
double vugi_film_transmittance(double absorption, double scattering, double x);

#endif
