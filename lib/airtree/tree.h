/* SPDX-License-Identifier: MIT
 * The nodes of a pose: which high place catches the air that rises from where, how much it holds,
 * and where air goes that it can't hold. The merge tree of the ceilings, as the depression
 * hierarchy of Barnes, Callaghan, Wickert 2020 (Earth Surf. Dynam. 8:431) for water over land, upside
 * down and over spans, so that ceilings may lie above one another. */
#ifndef VUGI_AIRTREE_TREE_H
#define VUGI_AIRTREE_TREE_H

#include "cavity/rim.h"

#define VUGI_NO_AIRNODE UINT32_MAX

/* A leaf is a local high of the ceiling; an inner node is two that have met at a sill. */
typedef struct vugi_airnode {
    double top;           /* its highest ceiling */
    double sill;          /* level down to which it holds air; -INFINITY: no way on */
    double room;          /* mm3 above the sill */
    uint32_t parent;      /* the node that it and its neighbour behind the sill make up */
    uint32_t part[2];     /* those two, or VUGI_NO_AIRNODE */
    uint32_t beyond;      /* leaf to which air goes that runs over its sill */
    uint32_t apex;        /* span of its highest ceiling */
    uint32_t first, last; /* member[first .. last - 1]: its spans, those of its parts too */
} vugi_airnode;

typedef struct vugi_airtree {
    double basis[9];
    double h, x0, y0;
    double cell; /* mm2 that a column stands for, so that volumes are true */
    int32_t nx, ny;
    size_t span_count;
    uint32_t *column_first; /* nx * ny + 1 */
    uint32_t *column;       /* of each span */
    vugi_span_ends *ends;
    int32_t *body;
    vugi_sides *side; /* of each span, at barriers; NULL: there are none */
    uint32_t *leaf;   /* of each span: where air below its ceiling rises to */
    uint32_t *entry;  /* of each span: the node on whose walls its ceiling lies */
    float *least;     /* of each span: level at which entry takes it over; else its hi */
    uint32_t *rise;   /* of each span: the next span up along the ceiling, itself at a top */
    uint32_t *member;
    vugi_span_ends *member_ends; /* of those spans */
    size_t count;
    vugi_airnode *node;
    double volume;
} vugi_airtree;

/* volume: the true one, to which that of the columns is scaled. Copies what it needs of the columns. Nodes that hold less than speck mm3, an effect of the
 * sampling, are counted to the node behind their sill. An all-zero vugi_airtree is empty. */
vug_status vugi_airtree_build(vug_context *ctx, const vugi_allocator *mem,
    const vugi_columns *columns, double volume, double speck, vugi_airtree *tree);
void vugi_airtree_free(const vugi_allocator *mem, vugi_airtree *tree);

/* Volume of a node above a level; the level down to which a volume fills it. */
double vugi_airnode_volume(const vugi_airtree *tree, uint32_t node, double level);
double vugi_airnode_level(const vugi_airtree *tree, uint32_t node, double volume);

/* The node that air in a span belongs to at a level. */
uint32_t vugi_airnode_at(const vugi_airtree *tree, uint32_t span, double level);

/* The span that holds, or comes nearest to, a point in pose coordinates; VUGI_NO_AIRNODE: none in that
 * body (body < 0: any). */
uint32_t vugi_airtree_span(const vugi_airtree *tree, const double pose[3], int32_t body);

/* Point of a span at a height, in part coordinates. */
void vugi_airtree_point(const vugi_airtree *tree, uint32_t span, double z, double part[3]);

#endif
