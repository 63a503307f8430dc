/* SPDX-License-Identifier: MIT
 * Bores that lead up and out: from their inner ends on liquid rises in them by the law of the hole, as long as it stands in
 * it, whatever columns show of them. */
#ifndef VUGI_TRANSIENT_BORES_H
#define VUGI_TRANSIENT_BORES_H

#include "transient/outlet.h"

/* Of an arc: between these heights it is a bore's, INFINITY: none. mouth: whose law holds there, VUGI_NONE: an arc below it
 * has that already. */
typedef struct vugi_bore_stretch {
    double from, to;
    uint32_t mouth;
} vugi_bore_stretch;

/* The law of a bore that is full to so many eighths. */
typedef struct vugi_bore_part {
    vugi_outlet law;
    int eighths; /* 0: not known yet */
} vugi_bore_part;

/* Of each arc. */
void vugi_bores_find(const vugi_scene *scene, vugi_bore_stretch *of);

/* The eighth that a level is in counts as full. */
double vugi_bore_next(const vugi_bore_stretch *stretch, double level);
void vugi_bore_fill(const vug_fluid *fluid, const vugi_scene_mouth *mouth,
    const vugi_bore_stretch *stretch, double level, vugi_bore_part *part);

/* The law of a flow whose `of` is that of a bore, by the heads at its ends. */
double vugi_bore_law(const vugi_ask *ask, const vugi_flow *flow, const double head[VUGI_FLOW_ENDS],
    double slope[VUGI_FLOW_ENDS]);

#endif
