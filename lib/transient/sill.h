/* SPDX-License-Identifier: MIT
 * The head over a sill: how much higher than it the pool stands that runs over it. */
#ifndef VUGI_TRANSIENT_SILL_H
#define VUGI_TRANSIENT_SILL_H

#include "gravity/scene.h"

/* Head in mm of a sheet: flow in mm2/s (of each mm of width) over a level crest so long along the flow. */
double vugi_sheet_head(const vug_fluid *fluid, double flow_mm2_s, double crest_mm);

/* A sill at several heads: how wide the way over it is, and how long its crest. */
enum { VUGI_SILL_HEADS = 8 };
typedef struct vugi_sill_shape {
    double head[VUGI_SILL_HEADS], width[VUGI_SILL_HEADS], crest[VUGI_SILL_HEADS];
} vugi_sill_shape;

/* The shape of the sill at a link of the graph (its sill is a span), as the columns have it. */
void vugi_sill_measure(const vugi_graph *graph, uint32_t link, double z, vugi_sill_shape *shape);

/* mm3/s that runs over it under a head in mm. */
double vugi_sill_flow(const vug_fluid *fluid, const vugi_sill_shape *shape, double head);

#endif
