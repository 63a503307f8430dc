/* SPDX-License-Identifier: MIT
 * The gravity graph as a network in time. Full arcs are pipes, arcs with a surface are tanks at their
 * end, flooded nodes are junctions, air that hangs together is one cushion, and openings let it out
 * against their own resistance. */
#ifndef VUGI_TRANSIENT_NETWORK_H
#define VUGI_TRANSIENT_NETWORK_H

#include "transient/network_types.h"

bool vugi_network_alloc(vugi_network *n);
void vugi_network_free(vugi_network *n);

/* What each arc is, at the levels of now. */
void vugi_network_classify(vugi_network *n);

/* The arc that the inlet feeds: the one it opens into while that is under liquid, else the surface below it. */
uint32_t vugi_network_fed(const vugi_network *n);

/* Pressure at the inlet, mm over that outside, while `rate` comes in there: that of the air or the liquid there, and
 * what the way from the inlet on resists. after: at the end of the step. */
double vugi_network_inlet_head(const vugi_network *n, double rate, bool after);

/* Rounds after which flows that still change are left alone. */
enum { VUGI_NETWORK_ROUNDS = 60 };

/* Flows of a step of dt seconds, into next; change says whether they agree with the resistances that they
 * were reckoned with. */
vug_status vugi_network_flows(vugi_network *n, uint32_t fed, double dt);

#endif
