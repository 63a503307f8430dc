/* SPDX-License-Identifier: MIT
 * Doors: throats between chambers that lie side by side. For what happens in time each chamber has levels of its own, so
 * the sweep does not join what lies on either side of a door; liquid and air pass it by its height. */
#ifndef VUGI_GRAVITY_DOORS_H
#define VUGI_GRAVITY_DOORS_H

#include "gravity/graph.h"

struct vugi_atlas;

/* A throat of the cavity in this pose: chambers that it joins, its middle, heights of the middles of the chambers, the
 * lower first, what it resists (see vugi_passage), and the radius of its ball. */
typedef struct vugi_scene_throat {
    int32_t a, b;
    double at[3], low, high;
    double length, thin, edge;
    double radius;
    double along[3]; /* unit, from chamber a to b */
} vugi_scene_throat;

typedef struct vugi_door {
    size_t throat;                      /* number */
    double lo, hi, z;                   /* its floor, its roof, between them */
    uint32_t span[2];                   /* one on either side */
    uint32_t arc[2];                    /* at z, in the graph without it */
    uint32_t end_span[2][2], end[2][2]; /* the same at its floor, and at its roof: [roof][side] */
} vugi_door;

/* The doors among the throats, and the gates in which they are by sweep. Those up to the roof of a chamber are sills, and
 * none. *gate: NULL if there is no door. */
vug_status vugi_doors_find(vug_context *ctx, const vugi_allocator *mem, const vugi_columns *columns,
    const struct vugi_atlas *atlas, const vugi_scene_throat *throat, size_t throat_count,
    vugi_door **door, size_t *count, uint32_t **gate);

/* Liquid comes up to its floor on one side; on both. */
bool vugi_door_reached(const vugi_graph *graph, const double *level, const vugi_door *door,
    int side);
bool vugi_door_wet(const vugi_graph *graph, const double *level, const vugi_door *door);

/* The arc whose air is under its roof on one side; VUGI_NONE: liquid stands there. */
uint32_t vugi_door_air(const vugi_graph *graph, const double *level, const vugi_door *door,
    int side);

#endif
