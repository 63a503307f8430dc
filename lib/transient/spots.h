/* SPDX-License-Identifier: MIT
 * Where in a flooded node liquid stands: one spot for each chamber that meets there, joined by the throats. */
#ifndef VUGI_TRANSIENT_SPOTS_H
#define VUGI_TRANSIENT_SPOTS_H

#include "transient/path.h"

/* Chambers of the section near an end of an arc, by how much of it lies in them. */
enum { VUGI_END_CHAMBERS = 6 };
typedef struct vugi_end_chambers {
    int32_t chamber[VUGI_END_CHAMBERS];
    uint32_t cells[VUGI_END_CHAMBERS], all;
} vugi_end_chambers;

void vugi_end_chambers_count(vugi_end_chambers *end, int32_t chamber);

/* The narrowest place of a throat may be so many radii along it from an arc that is in it. */
enum { VUGI_THROAT_RADII = 5 };

/* Spots, where arcs begin and end, and what joins spots. Stretches of arcs that pass a throat get its resistance:
 * changes out->knot. low, high: of each arc. */
vug_status vugi_spots_build(vug_context *ctx, const vugi_allocator *mem, const vugi_scene *scene,
    const vugi_end_chambers *low, const vugi_end_chambers *high, vugi_resistance *out);
void vugi_spots_free(const vugi_allocator *mem, vugi_resistance *resist);

/* An arc's section lies in one chamber at most. */
bool vugi_end_single(const vugi_end_chambers *end);

/* The chamber that has most of it, -1: none. */
int32_t vugi_end_chamber(const vugi_end_chambers *end);

#endif
