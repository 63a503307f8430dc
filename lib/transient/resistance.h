/* SPDX-License-Identifier: MIT
 * What a liquid finds in its way inside a cavity: each arc as a bundle of equal tubes. */
#ifndef VUGI_TRANSIENT_RESISTANCE_H
#define VUGI_TRANSIENT_RESISTANCE_H

#include "gravity/scene.h"

/* Along an arc from its lower end: length, integral of 8 / (area radius^2) and integral of 2 / radius
 * (mm, 1/mm^3, 1): a tube bundle of that length with the same viscous and the same yield pressure. */
typedef struct vugi_way {
    double length, thin, edge;
} vugi_way;

typedef struct vugi_resist {
    vugi_way *knot;      /* up to each knot of the graph */
    vugi_way *down, *up; /* of each arc: the way across the wider arc that it meets below, above */
} vugi_resist;

vug_status vugi_resist_build(vug_context *ctx, const vugi_allocator *mem, const vugi_scene *scene,
    vugi_resist *out);
void vugi_resist_free(const vugi_allocator *mem, vugi_resist *resist);

/* From the node below an arc up to height z in it, or all the way to the node above. */
vugi_way vugi_way_to(const vugi_scene *scene, const vugi_resist *resist, uint32_t arc, double z);
vugi_way vugi_way_through(const vugi_scene *scene, const vugi_resist *resist, uint32_t arc);

/* Head in mm of the fluid that drives a flow in mm3/s along the way, over the flow. */
double vugi_way_resistance(const vug_fluid *fluid, const vugi_way *way, double flow);

/* Head in mm that the yield stress can hold along the way. */
double vugi_way_hold(const vug_fluid *fluid, const vugi_way *way);

#endif
