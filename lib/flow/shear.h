/* SPDX-License-Identifier: MIT
 * Herschel-Bulkley flow in a tube and between plates, in logarithms so that no power overflows.
 * Tube: Q = pi R^3 / tw^3 int_0^tw t^2 rate(t) dt (Rabinowitsch and Mooney), with rate(t) = ((t -
 * ty)/K)^(1/n). */
#ifndef VUGI_FLOW_SHEAR_H
#define VUGI_FLOW_SHEAR_H

#include "base/base.h"

/* Stress beyond the yield stress is the variable of both: given by its logarithm.
 * Tube: ln(flow / (pi radius^3)); slot: ln(flow / (2 width (gap/2)^2)). Rising in ln_excess. */
double vugi_tube_ln_rate(const vug_fluid *fluid, double ln_excess);
double vugi_slot_ln_rate(const vug_fluid *fluid, double ln_excess);

#endif
