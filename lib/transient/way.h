/* SPDX-License-Identifier: MIT
 * The way of liquid from a surface to an opening. */
#ifndef VUGI_TRANSIENT_WAY_H
#define VUGI_TRANSIENT_WAY_H

#include "transient/resistance.h"

typedef struct vugi_ways {
    const vugi_scene *scene;
    vugi_resistance resistance;
    vugi_path *to; /* of each spot: from the opening; scratch */
    bool *reached;
} vugi_ways;

vug_status vugi_ways_make(vug_context *ctx, const vugi_scene *scene, vugi_ways *ways);
void vugi_ways_free(vugi_ways *ways);

/* Spreads from a mouth through the arcs that are full at these levels, by the way of least resistance. */
void vugi_ways_from(vugi_ways *ways, uint32_t mouth, const double *level);

/* From that mouth to the surface of an arc; nothing if no liquid leads there. */
vugi_path vugi_ways_to(const vugi_ways *ways, uint32_t mouth, uint32_t arc, const double *level);

#endif
