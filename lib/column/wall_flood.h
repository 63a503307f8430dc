/* SPDX-License-Identifier: MIT
 * Where air can still reach an opening (or liquid an outlet) along the walls, and how much cannot: exact. */
#ifndef VUGI_COLUMN_WALL_FLOOD_H
#define VUGI_COLUMN_WALL_FLOOD_H

#include "column/column.h"
#include "column/front.h"
#include "mesh/terrain.h"

/* A triangle that caps an opening that is open; triangles are counted over all bodies. */
typedef struct vugi_wall_gate {
    uint32_t triangle;
    int32_t opening;
} vugi_wall_gate;

/* A corner without a higher one beside it. Of what is around it: */
typedef struct vugi_wall_top {
    double level;    /* air above it is trapped, -INFINITY: all */
    uint32_t corner; /* the top itself, and */
    uint32_t sill; /* the corner that the level is of, or VUGI_NO_CORNER: none, or a column's end */
    int32_t opening; /* of which that is a corner, -1: of none */
    uint32_t body;
    uint32_t first;  /* of its meetings, in a list of them by top */
    uint32_t hung;   /* on so many columns, one after the other */
    uint32_t pocket; /* see vugi_wall_flood_pockets() */
} vugi_wall_top;

#define VUGI_NO_CORNER UINT32_MAX

/* An all-zero one may be used again and again, then freed. Corners are those of the bodies' terrains, counted over all
 * bodies. Heights are along up; of liquid, all is seen upside down. */
typedef struct vugi_wall_flood {
    double up[3], bottom; /* unit, and the least of all heights */
    double unseen;        /* mm3 of what may hang on columns */
    double *height;       /* of each corner */
    uint32_t *top;        /* of each corner: the number of the top that a way up leads to */
    vugi_wall_top *tops;
    size_t corner_count, top_count;
    struct vugi_wall_room *room;
    size_t height_capacity, top_capacity, tops_capacity;
} vugi_wall_flood;

/* Can the bodies be looked at so? They have to have terrains that are closed, and no bore may be only planned. */
bool vugi_wall_flood_can(const vugi_bodies *bodies);

/* Do their walls tell all? Else they cross each other, or are open: columns have to join what they do not. */
bool vugi_wall_flood_sound(const vugi_bodies *bodies);

/* The greatest, over all paths over the walls, and straight up from what ends below them, of the lowest point
 * on the path, from the gates: Priority-Flood (Barnes, Lehman, Mulla 2014) from top to top. basis: of the
 * pose. columns: of the same pose; NULL where walls are sound. false: no memory. */
bool vugi_wall_flood_run(const vugi_allocator *mem, const vugi_bodies *bodies,
    const double basis[9], const vugi_columns *columns, bool liquid, const vugi_wall_gate *gate,
    size_t gate_count, vugi_wall_flood *flood);

/* The top that is above a triangle of the bodies. */
const vugi_wall_top *vugi_wall_flood_top(const vugi_bodies *bodies, const vugi_wall_flood *flood,
    uint32_t triangle);

/* What is trapped, by the divergence theorem: its volume, the area of its surfaces at their levels, and that times how
 * far those may be off; the area of the walls around it as seen from the side, and the sum of the squares of the areas of
 * their triangles; unseen: what of it may hang on columns. */
typedef struct vugi_wall_sums {
    double volume, surface, level, side, squares, unseen;
} vugi_wall_sums;

/* error: of the height of each opening. */
vugi_wall_sums vugi_wall_flood_caught(const vugi_bodies *bodies, const vugi_wall_flood *flood,
    const double *error);

/* A piece of what is trapped. */
typedef struct vugi_wall_pocket {
    vugi_wall_sums sums;
    double level, peak[3]; /* it reaches from that height to this place */
    uint32_t top;          /* its highest */
} vugi_wall_pocket;

/* Finds all, and sets the tops' pocket: their number, from 1 on, 0: nothing is trapped there. *list: to be freed. */
bool vugi_wall_flood_pockets(const vugi_allocator *mem, const vugi_bodies *bodies,
    vugi_wall_flood *flood, const double *error, vugi_wall_pocket **list, size_t *count);

void vugi_wall_flood_free(const vugi_allocator *mem, vugi_wall_flood *flood);

#endif
