/* SPDX-License-Identifier: MIT
 * How fast liquid leaves through openings while air comes in by others, or by the same one. */
#ifndef VUGI_DRAIN_ORIFICE_H
#define VUGI_DRAIN_ORIFICE_H

#include "gravity/scene.h"
#include "transient/path.h"

/* Mouths of one pool. */
typedef struct vugi_outlets {
    const vugi_scene *scene;
    const vug_fluid *fluid;
    const bool *use; /* of each mouth: liquid of the pool reaches it */
    uint32_t air;    /* mouth by which air comes in: the highest open one */
    const vugi_path
        *path;           /* of each mouth: the way of the liquid to it; NULL: nothing in the way */
    const double *share; /* and the part of its flow that goes that way */
} vugi_outlets;

/* Flow out with the surface at level, mm3/s. */
double vugi_outflow(const vugi_outlets *outlets, double level);

/* Liquid leaves by a lone opening while air comes in by it, glug by glug, as vug_exchange_flow():
 * mm3/s, 0 below the width at which the meniscus gives way. */
double vugi_glug(const vug_fluid *fluid, double diameter_mm);

/* Mean thickness in mm of the film left on walls of a height after draining for a time: Jeffreys
 * 1930, sqrt(viscosity z / (density g t)), mean over z; at least what the yield stress holds. */
double vugi_film(const vug_fluid *fluid, double height_mm, double time_s);

#endif
