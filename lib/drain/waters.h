/* SPDX-License-Identifier: MIT
 * The liquid of a cavity that drains as a network: the places, ways and throats of transient/resistance.h, with a
 * surface in each arc that is not full, openings that let liquid out, and air that comes in over the surfaces. */
#ifndef VUGI_DRAIN_WATERS_H
#define VUGI_DRAIN_WATERS_H

#include "drain/skyline.h"
#include "drain/orifice.h"

#include "gravity/links.h"
#include "transient/resistance.h"
#include "transient/slit.h"

/* A surface: an arc whose liquid has air over it. */
typedef struct vugi_water_top {
    uint32_t arc;
    double least;  /* mm3 that stay in the arc whatever happens */
    double pinned; /* head in mm at which its air keeps it; NAN: that of its level under its air */
    double from;   /* mm3 at the beginning of a step */
    double to;     /* mm3 at its end */
} vugi_water_top;

/* Two places, and what is between them. */
typedef struct vugi_water_way {
    uint32_t from, to;
    vugi_path path;
} vugi_water_way;

/* A full arc below a node that no liquid stands over: what comes up in it runs over into another there. */
typedef struct vugi_water_spill {
    uint32_t place, into; /* where it comes up; the arc that it runs down */
    double z, flow;       /* mm; mm3/s */
} vugi_water_spill;

/* A door between two chambers. */
typedef struct vugi_water_door {
    vugi_slit slit;
    bool open;    /* liquid can pass it, and finds something in its way */
    bool free;    /* nothing to speak of resists */
    uint32_t air; /* in it; VUGI_NONE: liquid is over its roof on both sides */
    double flow;  /* of the last round, from its first side to the other, mm3/s */
} vugi_water_door;

typedef struct vugi_waters {
    const vugi_scene *scene;
    const vug_fluid *fluid;
    const bool *open; /* of each mouth */
    uint32_t air; /* the mouth by which air comes in first, and no liquid leaves; VUGI_NONE: none */
    vugi_resistance resistance;
    vugi_links links;
    vugi_water_top *surface; /* of each arc: those that are not full, in order */
    size_t surfaces;
    double drop; /* mm that no one sees: places between which less is lost are one */
    double most; /* mm3/s that all the openings can pass */
    vugi_outlet *outlet, *inlet; /* of each mouth: liquid out, air in */
    uint32_t *
        port; /* of each mouth, and then of both sides of each door: the arc that it is reached in, or VUGI_NONE */
    vugi_water_door *door;
    vugi_water_way *way;
    size_t ways, way_room;
    vugi_water_spill *spill;
    size_t spills, spill_room;
    uint32_t *group, *row;              /* of each place */
    double *head, *next, *force, *move; /* of each row */
    double *known;                      /* of each place: its head in the step before, NAN: none */
    double low, high;                   /* between which all heads lie */
    size_t rows, liquids, row_room;     /* liquids: those before the airs */
    bool rough;                         /* far from the balance yet */
    double near; /* mm within which a flow's slope is the steepest that it gets */
    vugi_skyline matrix;
    double rest;   /* mm3/s by which the flows at a place don't balance, at most, after a step */
    size_t rounds; /* in all steps */
} vugi_waters;

vug_status vugi_waters_make(vug_context *ctx, const vugi_scene *scene, const vug_fluid *fluid,
    const bool *open, uint32_t air, vugi_waters *waters);
void vugi_waters_free(vugi_waters *waters);

/* Places, ways and rows at these levels; the surfaces are set. */
vug_status vugi_waters_join(vug_context *ctx, vugi_waters *waters, const double *level);

/* The arc in which liquid comes to rest that runs down another. */
uint32_t vugi_waters_rest(const vugi_graph *graph, const double *level, uint32_t arc);

/* Nothing to speak of resists between two surfaces: they have one level. */
bool vugi_waters_level(const vugi_waters *waters, size_t surface, size_t other);

/* What comes into an arc through doors, of the last step: mm3/s. */
double vugi_waters_fed(const vugi_waters *waters, uint32_t arc);

/* One implicit step of so many seconds: surface[].to from surface[].from. */
vug_status vugi_waters_step(vug_context *ctx, vugi_waters *waters, double dt);

#endif
