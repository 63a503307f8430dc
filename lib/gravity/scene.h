/* SPDX-License-Identifier: MIT
 * A cavity in a pose, ready to be filled or drained: its columns, its gravity graph, and where its
 * openings lie on the graph. Shared by the results that were made on it. */
#ifndef VUGI_GRAVITY_SCENE_H
#define VUGI_GRAVITY_SCENE_H

#include "gravity/graph.h"

/* An opening, as the scene wants it. */
typedef struct vugi_scene_mouth {
    int32_t opening; /* its number */
    double top, lip; /* highest and lowest point of its outer rim, along up */
    double inner_top,
        inner_lip;           /* of the way to it from the inner end of its bore: what counts for the
                                spans there */
    double point[3];         /* centre, part coordinates */
    double diameter, length; /* of the bore behind it */
    const uint32_t *span;    /* spans at it, those at its outer end first; only read while the scene
                                is built */
    size_t outer, spans;
} vugi_scene_mouth;

/* Where a mouth opens into an arc. z: for air, the level that covers it; for liquid, the lip. */
typedef struct vugi_port {
    uint32_t mouth, arc;
    double z;
} vugi_port;

typedef struct vugi_scene {
    vugi_allocator mem;
    atomic_size_t owners;
    double up[3];
    vugi_columns columns;
    vugi_graph graph;
    vugi_scene_mouth *mouth;
    uint32_t *entry;   /* of each mouth: the span nearest to its centre, or VUGI_NONE */
    uint32_t *landing; /* of each mouth: the basin into which liquid from it runs; or VUGI_NONE */
    size_t mouth_count;
    vugi_port *vent, *lip; /* by mouth */
    size_t vent_count, lip_count;
} vugi_scene;

/* Takes over the columns (from mem), in success and in failure. */
vug_status vugi_scene_make(vug_context *ctx, const vugi_allocator *mem, vugi_columns *columns,
    const double up[3], int32_t body, double volume, const vugi_scene_mouth *mouth,
    size_t mouth_count, vugi_scene **out);
/* The basins into which liquid from the mouths runs, into landing. entry: a span for each mouth. */
vug_status vugi_scene_land(vug_context *ctx, vugi_scene *scene);
vugi_scene *vugi_scene_share(vugi_scene *scene);
void vugi_scene_free(vugi_scene *scene);

/* The scene upside down: heights and levels change their sign, air takes the place of liquid, vents
 * that of lips. Arcs, nodes and mouths keep their numbers. For draining, where air comes in and liquid
 * goes out. */
vug_status vugi_scene_mirror(vug_context *ctx, const vugi_scene *scene, vugi_scene **out);

/* Number that a span has in the scene upside down. */
uint32_t vugi_mirror_span(const vugi_columns *columns, uint32_t column, uint32_t span);

/* ---- what is connected at given levels ------------------------------------- */

/* level[arc]: from the arc's lo (dry) to its hi (full). */
typedef struct vugi_links {
    uint32_t *air;    /* of each arc: number of its air, VUGI_NONE if it has none */
    uint32_t *pool;   /* of each arc: number of the pool it is wet by or touches, or VUGI_NONE */
    bool *vented;     /* of each air: reaches an open mouth */
    uint32_t *parent; /* scratch */
    uint32_t air_count, pool_count;
} vugi_links;

bool vugi_links_alloc(const vugi_allocator *mem, const vugi_graph *graph, vugi_links *links);
void vugi_links_free(const vugi_allocator *mem, vugi_links *links);

/* open[mouth]: air passes. */
void vugi_links_find(const vugi_scene *scene, const double *level, const bool *open,
    vugi_links *links);

/* Air passes at a port: the arc is dry, or its liquid below the rim. */
bool vugi_port_free(const vugi_graph *graph, const double *level, const vugi_port *vent);

/* Number of the air over an arc's liquid, in it or over its brim; VUGI_NONE: other liquid stands there. */
uint32_t vugi_links_air_over(const vugi_graph *graph, const double *level, const vugi_links *links,
    uint32_t arc);

/* All arcs below are full: liquid stands over the node. */
bool vugi_node_flooded(const vugi_graph *graph, const double *level, uint32_t node);

double vugi_levels_volume(const vugi_graph *graph, const double *level);

#endif
