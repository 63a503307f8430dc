/* SPDX-License-Identifier: MIT
 * Air in the network: it shrinks under pressure (Boyle), leaves by the mouths that it reaches as
 * vug_hole_flow() of air, and bubbles into the air beside it when it is pressed down to the lower
 * end of its arc. */
#ifndef VUGI_TRANSIENT_GAS_H
#define VUGI_TRANSIENT_GAS_H

#include "transient/network_types.h"

/* Before a step: amounts and volumes, where air can escape to. */
void vugi_gas_begin(vugi_network *n);

/* In each round: what the vents pass at the pressures of now, and what bubbles from air to air. */
void vugi_gas_leaks(vugi_network *n);

/* Their part of the balance of a step. */
void vugi_gas_balance(vugi_network *n, double dt);

/* Air that wants to enter the arcs below its own; into bared. */
void vugi_gas_find_bared(vugi_network *n);

#endif
