/* SPDX-License-Identifier: MIT
 * What a fill in time adds to the network: surfaces that rise, what runs over sills and falls onto others, closed air, and
 * an inlet by a rate or a pressure. */
#ifndef VUGI_TRANSIENT_FILLING_H
#define VUGI_TRANSIENT_FILLING_H

#include "transient/filling_types.h"

vug_status vugi_filling_make(vug_context *ctx, vugi_filling *filling);
void vugi_filling_free(vugi_filling *filling);

/* What each arc is, at the levels of now. */
void vugi_filling_classify(vugi_filling *filling);

/* The arc that the inlet feeds: the one it opens into while that is under liquid, else the surface below it. */
uint32_t vugi_filling_fed(const vugi_filling *filling);

/* Pressure inside at the inlet as it came to be in the last step, mm over that outside. */
double vugi_filling_inside(const vugi_filling *filling);

/* What the pressure of the syringe drives through the inlet against that inside: mm3/s. */
double vugi_filling_driven(const vugi_filling *filling, double inside_mm);

/* Flows of a step of dt seconds, into next; how far they balance say the heads of the network. */
vug_status vugi_filling_flows(vugi_filling *filling, uint32_t fed, double dt);

/* Notes what the step is the first to run over, and where that comes. */
vug_status vugi_filling_note(vugi_filling *filling);

/* The surfaces over the floor of a door behind which it is dry, at most, mm. */
double vugi_filling_door_head(const vugi_filling *filling);

/* Liquid runs down through a door into another arc's air: that arc, or VUGI_NONE. */
uint32_t vugi_filling_door_falls(const vugi_filling *filling, size_t door, uint32_t from);

#endif
