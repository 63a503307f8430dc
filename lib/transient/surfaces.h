/* SPDX-License-Identifier: MIT
 * Surfaces of a fill: which arcs have one at the levels of now, and what it holds. */
#ifndef VUGI_TRANSIENT_SURFACES_H
#define VUGI_TRANSIENT_SURFACES_H

#include "transient/filling_types.h"

/* What each arc is, at the levels of now. */
void vugi_surfaces_classify(vugi_filling *filling);

bool vugi_surfaces_full(const vugi_filling *filling, uint32_t arc);

/* The place of what falls onto an arc: its surface, or without one a junction. */
uint32_t vugi_surfaces_place(const vugi_filling *filling, uint32_t arc);

/* The place of the air over an arc, VUGI_NONE: it has no pressure of its own. */
uint32_t vugi_surfaces_air(const vugi_filling *filling, uint32_t arc);

/* What they add to the balance of a step; false: no memory. Then what that came to. */
bool vugi_surfaces_add(vugi_filling *filling);
void vugi_surfaces_take(vugi_filling *filling);

#endif
