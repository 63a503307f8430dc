/* SPDX-License-Identifier: MIT
 * The gravity graph as a network in time, of a fill and of a drain alike: full arcs are pipes, arcs that are not end at
 * their surface, chambers are joined by throats and doors, and places between which nothing resists are one. */
#ifndef VUGI_TRANSIENT_NETWORK_H
#define VUGI_TRANSIENT_NETWORK_H

#include "transient/bores.h"
#include "transient/heads.h"
#include "transient/resistance.h"
#include "transient/slit.h"

#include "gravity/links.h"

/* Two places, and what is between them. */
typedef struct vugi_network_way {
    uint32_t from, to;
    vugi_path path;
} vugi_network_way;

/* A door between two chambers. */
typedef struct vugi_network_door {
    vugi_slit slit;
    bool open;    /* liquid can pass it, and finds something in its way */
    double lost;  /* of all flow together, mm */
    uint32_t air; /* in it; VUGI_NONE: liquid is over its roof on both sides */
    size_t flow;  /* its number in the balance, while it is open */
} vugi_network_door;

/* Stops are mouths, and then both sides of each door: places along an arc by their height. */
typedef struct vugi_network {
    const vugi_scene *scene;
    const vug_fluid *fluid;
    const double *level;     /* of each arc */
    const vugi_links *links; /* at those */
    vugi_resistance resistance;
    vugi_heads heads;
    double most;                /* mm3/s: no flow is more, about */
    double stiff;               /* mm3/s for each mm where nothing resists */
    double lost;                /* of all flow together, along all ways and through all doors, mm */
    bool *surface;              /* of each arc: there is air over its liquid */
    bool *airs;                 /* of each air: it has a pressure of its own */
    uint32_t *port;             /* of each stop: the arc that it is reached in, or VUGI_NONE */
    vugi_bore_stretch *in_bore; /* of each arc */
    vugi_bore_part *bore;       /* of each mouth, where it has such a stretch */
    vugi_network_door *door;
    vugi_network_way *way;
    size_t ways, way_room;
} vugi_network;

/* most: so many mm3/s. */
vug_status vugi_network_make(vug_context *ctx, const vugi_scene *scene, const vug_fluid *fluid,
    double most, vugi_network *network);
void vugi_network_free(vugi_network *network);

/* Places, ways and doors at these levels, in a balance that takes more flows; surfaces and the ports of mouths are set. */
bool vugi_network_join(vugi_network *network, const double *level, const vugi_links *links);

uint32_t vugi_network_stop(const vugi_network *network, uint32_t stop);
uint32_t vugi_network_surface(const vugi_network *network, uint32_t arc);

/* VUGI_NONE: it has no pressure of its own. */
uint32_t vugi_network_air(const vugi_network *network, uint32_t air);

/* The arc in which liquid comes to rest that runs down another. */
uint32_t vugi_network_rest(const vugi_graph *graph, const double *level, uint32_t arc);

/* Area of an arc, the widest between two heights. */
double vugi_network_area(const vugi_graph *graph, uint32_t arc, double low, double high);

/* What comes into an arc through doors, by the last balance: mm3/s. */
double vugi_network_fed(const vugi_network *network, uint32_t arc);

#endif
