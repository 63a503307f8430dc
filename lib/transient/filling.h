/* SPDX-License-Identifier: MIT
 * What a fill in time adds to the network: surfaces that rise, what runs over sills and falls onto others, closed air, and
 * an inlet by a rate or a pressure. */
#ifndef VUGI_TRANSIENT_FILLING_H
#define VUGI_TRANSIENT_FILLING_H

#include "transient/filling_types.h"

vug_status vugi_filling_make(vug_context *ctx, vugi_filling *filling);
void vugi_filling_free(vugi_filling *filling);

/* Flows of a step of dt seconds, into next; how far they balance say the heads of the network. */
vug_status vugi_filling_flows(vugi_filling *filling, uint32_t fed, double dt);

#endif
