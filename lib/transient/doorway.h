/* SPDX-License-Identifier: MIT
 * What runs through the doors of a scene (see gravity/doors.h), by the law of transient/slit.h. */
#ifndef VUGI_TRANSIENT_DOORWAY_H
#define VUGI_TRANSIENT_DOORWAY_H

#include "transient/network_types.h"

/* false: no memory. */
bool vugi_doorways_make(vugi_network *n);

/* Between which places they are at the levels of now: those of a chamber's lowest arc are places too. */
void vugi_doorways_place(vugi_network *n);

/* What drives the flow at the heads of the round before, mm: its value and slope on either side. */
void vugi_doorways_measure(vugi_network *n, bool half);

/* In an arc whose foot is such a place: between its lowest door and its surface, or its end. */
vugi_path vugi_doorways_way(const vugi_network *n, uint32_t arc);

void vugi_doorways_put(vugi_network *n);
void vugi_doorways_flow(vugi_network *n);

/* The surfaces over the floor of a door behind which it is dry, at most, mm. */
double vugi_doorways_head(const vugi_network *n);

/* Liquid runs down through a door into another arc's air: that arc, or VUGI_NONE. */
uint32_t vugi_doorway_falls(const vugi_network *n, size_t door, uint32_t from);

#endif
