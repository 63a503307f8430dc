/* SPDX-License-Identifier: MIT
 * What passes a door by the heights on its sides: one law for filling and for draining. A slot's sheet that does not touch
 * its roof carries by the cube of its depth, and the side that it touches the roof on presses it through; Reynolds'
 * equation, integrated along the slot (Strack 1976 does it for ground water under a roof), makes of both one potential of
 * the head over the floor, whose difference drives the flow. */
#ifndef VUGI_TRANSIENT_SLIT_H
#define VUGI_TRANSIENT_SLIT_H

#include "transient/path.h"

#include "gravity/links.h"

/* Liquid as high as the gap over the floor of the door drives by `whole`, less deep by that power of it, mm. */
typedef struct vugi_slit {
    vugi_path path;
    double floor, gap, whole, power;
} vugi_slit;

vugi_slit vugi_slit_make(const vugi_scene *scene, const vugi_door *door);

/* What a height drives by on its side, mm, and how that grows with it. air: there is air under the roof; else heads
 * count as they are. */
double vugi_slit_drive(const vugi_slit *slit, bool air, double height, double *slope);

/* The same for what shears it, mm: pressure by depth, over the gap. The stress at the floor of a sheet goes by its depth
 * times its slope, where the roof's gap takes half of that: half its square presses against the yield stress along the floor
 * alone. */
double vugi_slit_press(const vugi_slit *slit, bool air, double height, double *slope);

/* The air in a door, or VUGI_NONE: liquid is over its roof on both sides. level: of each arc; links: at those. */
uint32_t vugi_slit_air(const vugi_graph *graph, const double *level, const vugi_links *links,
    const vugi_door *door);

#endif
