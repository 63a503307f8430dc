/* SPDX-License-Identifier: MIT
 * What passes openings and sills by the head there: one law for filling and for draining. */
#ifndef VUGI_TRANSIENT_OUTLET_H
#define VUGI_TRANSIENT_OUTLET_H

#include "transient/heads.h"
#include "transient/sill.h"

#include "gravity/scene.h"

/* The law of an opening, or of a sill, as a table: made once, asked in each round of each step. Heads count from `zero`. */
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

/* mm3/s at a head, and how it grows with that; nothing below the zero. As a balance asks for it: there its slope is for
 * the sake of the next move. */
double vugi_outlet_flow(const vugi_outlet *outlet, double head, double *slope);
double vugi_outlet_ask(const vugi_ask *ask, const vugi_outlet *outlet, double head, double *slope);

/* The law of a flow whose `of` is an outlet, by the head that it leaves; the same with its sign turned below 0: of air,
 * which goes either way. */
double vugi_outlet_law(const vugi_ask *ask, const vugi_flow *flow,
    const double head[VUGI_FLOW_ENDS], double slope[VUGI_FLOW_ENDS]);
double vugi_outlet_law_air(const vugi_ask *ask, const vugi_flow *flow,
    const double head[VUGI_FLOW_ENDS], double slope[VUGI_FLOW_ENDS]);

/* Along a bore that liquid rises in, full over a length, by the heads at its ends. */
vugi_outlet vugi_outlet_bore(const vug_fluid *fluid, const vugi_scene_mouth *mouth,
    double length_mm);

/* Over a sill, by the head over that. */
vugi_outlet vugi_outlet_sill(const vug_fluid *fluid, const vugi_sill_shape *shape);

/* Suction in mm of the liquid that lets so much air, mm3/s, in by a mouth; as bubbles if that is under liquid. */
double vugi_air_suction(const vug_fluid *fluid, const vugi_scene_mouth *mouth, bool under,
    double flow);

#endif
