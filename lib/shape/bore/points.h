/* SPDX-License-Identifier: MIT
 * The points that a cut brings, each known by where it comes from, so that all pieces that meet there
 * share one vertex. */
#ifndef VUGI_SHAPE_POINTS_H
#define VUGI_SHAPE_POINTS_H

#include "base/base.h"

/* kind, and what it lies on. */
enum {
    VUGI_POINT_EDGE,   /* edge of the mesh (lower vertex, higher vertex) and plane of the tool */
    VUGI_POINT_PIERCE, /* edge of the tool and triangle of the mesh */
    VUGI_POINT_CORNER  /* corner of the tool */
};

typedef struct vugi_point {
    uint32_t kind, a, b, c;
    double x[3]; /* in the tool's coordinates */
} vugi_point;

typedef struct vugi_points {
    vugi_allocator mem;
    vugi_point *point;
    size_t count, capacity;
    uint32_t *slot; /* number + 1, open addressing */
    size_t slots;   /* a power of 2 */
} vugi_points;

/* Number of the point, which is added unless it is there; false: no memory. */
bool vugi_points_add(vugi_points *points, const vugi_point *point, uint32_t *number);
void vugi_points_free(vugi_points *points);

#endif
