/* SPDX-License-Identifier: MIT
 * The liquid of a cavity that drains: the network of transient/network.h with openings that let liquid out, and air that
 * comes in over the surfaces. */
#ifndef VUGI_DRAIN_WATERS_H
#define VUGI_DRAIN_WATERS_H

#include "transient/network.h"
#include "transient/outlet.h"

/* A surface: an arc whose liquid has air over it. */
typedef struct vugi_water_top {
    uint32_t arc;
    double least;  /* mm3 that stay in the arc whatever happens */
    double pinned; /* head in mm at which its air keeps it; NAN: that of its level under its air */
    double from;   /* mm3 at the beginning of a step */
    double to;     /* mm3 at its end */
} vugi_water_top;

/* A full arc below a node that no liquid stands over: what comes up in it runs over into another there. */
typedef struct vugi_water_spill {
    uint32_t place, into; /* where it comes up; the arc that it runs down */
    double z, flow;       /* mm; mm3/s */
} vugi_water_spill;

typedef struct vugi_waters {
    vugi_network net;
    vugi_links links;
    const bool *open; /* of each mouth */
    uint32_t air; /* the mouth by which air comes in first, and no liquid leaves; VUGI_NONE: none */
    vugi_water_top *surface; /* of each arc: those that are not full, in order */
    size_t surfaces;
    vugi_outlet *outlet, *inlet; /* of each mouth: liquid out, air in */
    vugi_water_spill *spill;
    size_t spills, spill_room;
    double low, high; /* between which all heads lie */
    double dt;        /* of the step, s */
} vugi_waters;

vug_status vugi_waters_make(vug_context *ctx, const vugi_scene *scene, const vug_fluid *fluid,
    const bool *open, uint32_t air, vugi_waters *waters);
void vugi_waters_free(vugi_waters *waters);

/* Places and flows at these levels; the surfaces are set. */
vug_status vugi_waters_join(vug_context *ctx, vugi_waters *waters, const double *level);

/* Nothing to speak of resists between two surfaces: they have one level. */
bool vugi_waters_level(const vugi_waters *waters, size_t surface, size_t other);

/* One implicit step of so many seconds: surface[].to from surface[].from. */
vug_status vugi_waters_step(vug_context *ctx, vugi_waters *waters, double dt);

#endif
