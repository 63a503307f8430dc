/* SPDX-License-Identifier: MIT
 * The domes of a pose: which high place catches the air that rises from where, how much it holds,
 * and where air goes that it can't hold. The merge tree of the ceilings, as the depression
 * hierarchy of Barnes, Callaghan, Wickert 2020 (Earth Surf. Dynam. 8:431) for water over land, upside
 * down and over spans, so that ceilings may lie above one another. */
#ifndef VUGI_AIRTREE_TREE_H
#define VUGI_AIRTREE_TREE_H

#include "column/column.h"

#define VUGI_NO_DOME UINT32_MAX

/* A leaf is a local high of the ceiling; an inner dome is two that have met at a sill. */
typedef struct vugi_dome {
    double top;           /* its highest ceiling */
    double sill;          /* level down to which it holds air; -INFINITY: no way on */
    double room;          /* mm3 above the sill */
    uint32_t parent;      /* the dome that it and its neighbour behind the sill make up */
    uint32_t part[2];     /* those two, or VUGI_NO_DOME */
    uint32_t beyond;      /* leaf to which air goes that runs over its sill */
    uint32_t apex;        /* span of its highest ceiling */
    uint32_t first, last; /* member[first .. last - 1]: its spans, those of its parts too */
} vugi_dome;

typedef struct vugi_domes {
    double basis[9];
    double h, x0, y0;
    int32_t nx, ny;
    size_t span_count;
    uint32_t *column_first; /* nx * ny + 1 */
    uint32_t *column;       /* of each span */
    float *lo, *hi;
    int32_t *body;
    vugi_sides *side; /* of each span, at gates; NULL: there are none */
    uint32_t *leaf;   /* of each span: where air below its ceiling rises to */
    uint32_t *entry;  /* of each span: the dome on whose walls its ceiling lies */
    float *least;     /* of each span: level at which entry takes it over; else its hi */
    uint32_t *rise;   /* of each span: the next span up along the ceiling, itself at a top */
    uint32_t *member;
    size_t count;
    vugi_dome *dome;
    double volume;
} vugi_domes;

/* Copies what it needs of the columns. Domes that hold less than speck mm3, an effect of the
 * sampling, are counted to the dome behind their sill. An all-zero vugi_domes is empty. */
vug_status vugi_domes_build(vug_context *ctx, const vugi_allocator *mem,
    const vugi_columns *columns, double speck, vugi_domes *domes);
void vugi_domes_free(const vugi_allocator *mem, vugi_domes *domes);

/* Volume of a dome above a level; the level down to which a volume fills it. */
double vugi_dome_volume(const vugi_domes *domes, uint32_t dome, double level);
double vugi_dome_level(const vugi_domes *domes, uint32_t dome, double volume);

/* The dome that air in a span belongs to at a level. */
uint32_t vugi_dome_at(const vugi_domes *domes, uint32_t span, double level);

/* The span that holds, or comes nearest to, a point in pose coordinates; VUGI_NO_DOME: none in that
 * body (body < 0: any). */
uint32_t vugi_domes_span(const vugi_domes *domes, const double pose[3], int32_t body);

/* Point of a span at a height, in part coordinates. */
void vugi_domes_point(const vugi_domes *domes, uint32_t span, double z, double part[3]);

#endif
