/* SPDX-License-Identifier: MIT
 * Which arcs share their air, and which their liquid. */
#ifndef VUGI_GRAVITY_LINKS_H
#define VUGI_GRAVITY_LINKS_H

#include "gravity/graph.h"
#include "gravity/scene.h"

/* level[arc]: from the arc's lo (dry) to its hi (full). */
typedef struct vugi_links {
    uint32_t *air;     /* of each arc: number of its air, VUGI_NONE if it has none */
    uint32_t *pool;    /* of each arc: number of the pool it is wet by or touches, or VUGI_NONE */
    bool *vented;      /* of each air: reaches an open mouth */
    uint32_t *parent;  /* scratch */
    const bool *hangs; /* of each arc: what stands in it leaves the node below to air; NULL: none */
    uint32_t air_count, pool_count;
} vugi_links;

bool vugi_links_alloc(const vugi_allocator *mem, const vugi_graph *graph, vugi_links *links);
void vugi_links_free(const vugi_allocator *mem, vugi_links *links);

/* open[mouth]: air passes. */
void vugi_links_find(const vugi_scene *scene, const double *level, const bool *open,
    vugi_links *links);

/* Air passes at a port: the arc is dry, or its liquid below the rim. */
bool vugi_port_free(const vugi_graph *graph, const double *level, const vugi_port *vent);

/* Air passes between a mouth and an air. */
bool vugi_links_open_to(const vugi_scene *scene, const double *level, const vugi_links *links,
    uint32_t mouth, uint32_t air);

/* Number of the air over an arc's liquid, in it or over its brim; VUGI_NONE: other liquid stands there. */
uint32_t vugi_links_air_over(const vugi_graph *graph, const double *level, const vugi_links *links,
    uint32_t arc);

double vugi_levels_volume(const vugi_graph *graph, const double *level);

#endif
