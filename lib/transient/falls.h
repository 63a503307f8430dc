/* SPDX-License-Identifier: MIT
 * What runs over sills, down through dry throats and through doors, and onto which surface it falls. */
#ifndef VUGI_TRANSIENT_FALLS_H
#define VUGI_TRANSIENT_FALLS_H

#include "transient/filling_types.h"

/* The arc onto whose surface liquid falls that comes by arc `above`, or VUGI_NONE, and would come to rest in a basin. */
uint32_t vugi_falls_onto(const vugi_filling *filling, uint32_t basin, uint32_t above);

/* Which arc each falls onto that runs over or down. */
vug_status vugi_falls_find(vugi_filling *filling);

/* What they add to the balance of a step; false: no memory. */
bool vugi_falls_add(vugi_filling *filling);

/* Notes what the step is the first to run over, and where that comes. */
vug_status vugi_falls_note(vugi_filling *filling);

/* The surfaces over the floor of a door behind which it is dry, at most, mm. */
double vugi_falls_door_head(const vugi_filling *filling);

/* Liquid runs down through a door into another arc's air: that arc, or VUGI_NONE. */
uint32_t vugi_falls_by_door(const vugi_filling *filling, size_t door, uint32_t from);

#endif
