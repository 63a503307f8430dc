/* SPDX-License-Identifier: MIT
 * Perches: what stands over a slot in a wall, while the far side of that is not full up to the slot's roof. The graph has
 * the slot and both its sides as one arc, as far up as it goes; over it each side has its own. A pool that runs through
 * the slot more slowly than it is fed stands in its own side's arc, over a node that is not flooded. The volume beside
 * the slot itself, no more than its height, is counted to the far side. */
#ifndef VUGI_TRANSIENT_PERCH_H
#define VUGI_TRANSIENT_PERCH_H

#include "transient/network_types.h"

/* Which arcs are perches, once the resistance is known. */
void vugi_perch_find(vugi_network *n);

/* The full arc below, whose pool the perch carries on, and the arc of the slot. */
static inline bool vugi_is_perch(const vugi_network *n, uint32_t arc)
{
    return n->perch[arc].joint != VUGI_NONE;
}

/* The pool below comes up to the slot, and liquid is not over its roof on both sides. */
bool vugi_perch_open(const vugi_network *n, uint32_t arc);

/* Liquid stands on both sides up to the slot's floor. */
bool vugi_perch_wet(const vugi_network *n, uint32_t arc);

/* The perch that liquid comes to which is fed into the full arc below it, or into a slot with closed air; else the arc
 * itself. */
uint32_t vugi_perch_over(const vugi_network *n, uint32_t arc);

/* Height from which what stands on it drives liquid through the slot: the middle of that, or the far surface in it. */
double vugi_perch_low(const vugi_network *n, uint32_t arc);

/* What stands on perches whose far air has lost its way out goes down to the slot, if there is room. */
void vugi_perch_let_down(vugi_network *n);

/* Greatest height over the slot's floor, mm; what the far surface lags behind, once it has come to the slot. */
double vugi_perch_head(const vugi_network *n, uint32_t arc);
double vugi_perch_lag(const vugi_network *n);

#endif
