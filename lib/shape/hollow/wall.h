/* SPDX-License-Identifier: MIT
 * How near the triangles of an inner surface come to the outer one. */
#ifndef VUGI_HOLLOW_WALL_H
#define VUGI_HOLLOW_WALL_H

#include "mesh/tree.h"

typedef struct vugi_inner_wall {
    vug_context *ctx;
    const vugi_tree *outer;
    double asked, step, least; /* mm; step of the grid */
    double *far;               /* of each vertex from the outer surface; below 0: to be measured */
    double *inward;            /* 3 for each vertex: away from there */
    double *bound;             /* of each triangle: no point of it is nearer */
    uint8_t *stale;            /* vertices that moved since their triangles had a bound */
} vugi_inner_wall;

/* wall->step is set before. */
vug_status vugi_wall_begin(vug_context *ctx, const vugi_tree *outer, double asked,
    const vug_mesh *inner, vugi_inner_wall *wall);
void vugi_wall_end(vug_context *ctx, vugi_inner_wall *wall);

/* A bound below the distance of triangle abc from a surface of which its corners are no nearer than that. */
double vugi_wall_below(double corners, const double *a, const double *b, const double *c);

/* As thin as a wall may be: it lacks a tenth of a step. */
double vugi_wall_least(double asked, double step);

/* Vertex v has a new place. */
static inline void vugi_wall_moved(vugi_inner_wall *wall, size_t v)
{
    wall->far[v] = -1.0;
    wall->stale[v] = 1;
}

/* Moves vertices inward where a triangle comes nearer than asked by more than a tenth of a step. moved: gets 1 for
 * those. *thin: triangles for which that was not enough. */
vug_status vugi_wall_thicken(vug_context *ctx, vugi_inner_wall *wall, vug_mesh *inner,
    uint8_t *moved, size_t *thin);

#endif
