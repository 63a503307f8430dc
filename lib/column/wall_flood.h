/* SPDX-License-Identifier: MIT
 * Where air can still reach an opening (or liquid an outlet) along the wall itself, and how much cannot: exact. */
#ifndef VUGI_COLUMN_WALL_FLOOD_H
#define VUGI_COLUMN_WALL_FLOOD_H

#include "column/column.h"
#include "column/front.h"

/* An all-zero one may be used again and again, then freed. Triangles are counted over all bodies. Levels are heights in
 * the pose of the columns; of liquid, all is seen upside down. */
typedef struct vugi_wall_flood {
    double *level; /* of each triangle: air under what of it is higher is trapped, -INFINITY: all */
    int32_t
        *opening;   /* of each triangle: the one whose rim gave its level, -1: a sill of the wall */
    double *height; /* of each corner */
    double up[3];   /* unit */
    double bottom;  /* of all heights */
    double unseen;  /* mm3 of what rises from a floor that may be between two columns */
    unsigned char *taken; /* of each triangle: see vugi_wall_flood_pocket() */
    size_t level_capacity, opening_capacity, height_capacity, taken_capacity, stack_capacity;
    uint32_t *stack;
    vugi_front front;
} vugi_wall_flood;

/* Can the bodies be looked at so? Their neighbours have to be known, and no bore may be only planned. */
bool vugi_wall_flood_can(const vugi_bodies *bodies, const vugi_columns *columns);

/* gate: of each triangle the opening that it caps, if that is open, or -1. The greatest, over all paths over the wall
 * and up or down a column, of the lowest point on the path, from the gates: Priority-Flood (Barnes, Lehman,
 * Mulla 2014) on the triangles. Where two rooms meet their walls do, at a corner: so that is exact, unless
 * what rises from a floor is between two columns. false: no memory. */
bool vugi_wall_flood_run(const vugi_allocator *mem, const vugi_bodies *bodies,
    const vugi_columns *columns, bool liquid, const int32_t *gate, vugi_wall_flood *flood);

/* What is trapped, by the divergence theorem: its volume, the area of the walls around it as seen from the side, and the
 * sum of the squares of the areas of their triangles; unseen: what of it may hang on columns. */
typedef struct vugi_wall_sums {
    double volume, side, squares, unseen;
} vugi_wall_sums;
vugi_wall_sums vugi_wall_flood_caught(const vugi_bodies *bodies, const vugi_wall_flood *flood);

/* Adds what the piece of wall of it encloses that a triangle is part of, if it was not asked for before. */
void vugi_wall_flood_pocket(const vugi_bodies *bodies, vugi_wall_flood *flood, uint32_t triangle,
    vugi_wall_sums *sums);

void vugi_wall_flood_free(const vugi_allocator *mem, vugi_wall_flood *flood);

#endif
