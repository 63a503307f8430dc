/* SPDX-License-Identifier: MIT
 * Air in a fill: it shrinks under pressure (Boyle), leaves by the mouths that it reaches as vug_hole_flow() of air, and
 * bubbles into the air beside it when it is pressed down to the lower end of its arc. */
#ifndef VUGI_TRANSIENT_GAS_H
#define VUGI_TRANSIENT_GAS_H

#include "transient/filling_types.h"

/* Before a step: amounts and volumes, where air can escape to. */
void vugi_gas_begin(vugi_filling *n);

/* What it adds to the balance of a step; false: no memory. */
bool vugi_gas_add(vugi_filling *n);

/* Air that passes at an arc from one piece into another, by the head at a place besides. */
bool vugi_gas_pass(vugi_filling *n, vugi_flow_law law, uint32_t arc, uint32_t air, uint32_t to,
    uint32_t by);

/* Air that wants to enter the arcs below its own; into bared. */
void vugi_gas_find_bared(vugi_filling *n);

#endif
