/* SPDX-License-Identifier: MIT
 * What passes an opening of a cavity that drains, and what stays on its walls. */
#ifndef VUGI_DRAIN_ORIFICE_H
#define VUGI_DRAIN_ORIFICE_H

#include "gravity/scene.h"

/* The law of an opening as a table: made once, asked in each round of each step. Heads count from `zero`. */
enum { VUGI_OUTLET_ROWS = 40 };
typedef struct vugi_outlet {
    double zero;                   /* height of the lip, mm; 0: of air, its suction counts */
    double start;                  /* mm over it up to which nothing passes */
    double least, step;            /* ln mm beyond that of the first row; from row to row */
    double flow[VUGI_OUTLET_ROWS]; /* ln mm3/s */
} vugi_outlet;

/* Liquid out by a mouth, by its head in mm; air in by it, by the suction in mm of the liquid. */
vugi_outlet vugi_outlet_liquid(const vug_fluid *fluid, const vugi_scene_mouth *mouth,
    double most_mm);
vugi_outlet vugi_outlet_air(const vug_fluid *fluid, const vugi_scene_mouth *mouth, double most_mm);

/* mm3/s at a head, and how it grows with that; nothing below the zero. */
double vugi_outlet_flow(const vugi_outlet *outlet, double head, double *slope);

/* Suction in mm of the liquid that lets so much air, mm3/s, in by a mouth; as bubbles if that is under liquid. */
double vugi_air_suction(const vug_fluid *fluid, const vugi_scene_mouth *mouth, bool under,
    double flow);

/* Liquid leaves by a lone opening while air comes in by it, glug by glug, as vug_exchange_flow():
 * mm3/s, 0 below the width at which the meniscus gives way. */
double vugi_glug(const vug_fluid *fluid, double diameter_mm);

/* Mean thickness in mm of the film left on walls of a height after draining for a time: Jeffreys
 * 1930, sqrt(viscosity z / (density g t)), mean over z; at least what the yield stress holds. */
double vugi_film(const vug_fluid *fluid, double height_mm, double time_s);

/* The same at the end of a way down a wall whose slope has this sine, above 0. */
double vugi_film_at(const vug_fluid *fluid, double sine, double way_mm, double time_s);

#endif
