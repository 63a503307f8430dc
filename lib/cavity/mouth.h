/* SPDX-License-Identifier: MIT
 * From a border on the grid to the hole in the mesh: its axis, and where it ends outside. */
#ifndef VUGI_CAVITY_MOUTH_H
#define VUGI_CAVITY_MOUTH_H

#include "cavity/cavity.h"

#include "mesh/tree.h"

typedef struct vugi_mouth { /* where to look */
    double center[3];       /* in the hole */
    double normal[3];       /* roughly outward, unit */
    double reach;           /* the outline may be this far away */
    double slack;           /* how far off center may be */
    double area;            /* roughly, of the hole */
} vugi_mouth;

/* Finds the axis of the hole around mouth->center and follows it outward to the last plane in which
 * the hole is closed all around and its lip has not begun. *found; then hole is set, its center in
 * that plane. other: neighbours of the mesh. */
vug_status vugi_mouth_follow(vug_context *ctx, const vugi_tree *tree, const uint32_t *other,
    const vugi_mouth *mouth, vugi_hole *hole, bool *found);

/* Does a hole of a radius go on beyond its outer end, around a bend? Then *next is a place in what follows; a way out of a hole
 * soon has more room. */
bool vugi_mouth_goes_on(const vugi_tree *tree, const vugi_hole *hole, double radius,
    vugi_mouth *next);

/* Moves p along u and v (NULL: along u only) by up to two steps to where the nearest wall is
 * farthest; returns that distance. */
double vugi_farthest(const vugi_tree *tree, double p[3], const double u[3], const double v[3],
    double step);

#endif
