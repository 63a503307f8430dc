/* SPDX-License-Identifier: MIT
 * The gravity graph of a cavity in a pose: the Reeb graph of height. An arc is a stretch of the
 * cavity whose horizontal section stays one piece; a node is where pieces begin, end, join or part.
 * Quasi-static liquid fills an arc from its lower end, so one level for each arc is the whole state. */
#ifndef VUGI_GRAVITY_GRAPH_H
#define VUGI_GRAVITY_GRAPH_H

#include "gravity/sweep.h"

#include "column/column.h"

/* What an arc's section is from z up to the next knot, and the arc's volume below z. */
typedef struct vugi_knot {
    double z, volume, area, outline;
} vugi_knot;

typedef struct vugi_arc {
    double lo, hi, volume;
    uint32_t from, to;    /* nodes below and above */
    uint32_t knot, knots; /* its first knot, how many: at least two, at lo and at hi */
} vugi_arc;

typedef struct vugi_node {
    double z;
    uint32_t span; /* where */
    uint32_t link; /* its arcs: link[link] .. first those below, then those above */
    uint32_t downs, ups;
} vugi_node;

typedef struct vugi_graph {
    const vugi_columns *columns;
    vugi_sweep sweep;
    uint32_t *arc_of_raw; /* VUGI_NONE: nothing left of it; see vugi_graph_arc() */
    uint32_t *piece;      /* of each arc: the next of those that it was cut into; NULL: none was */
    vugi_arc *arc;
    size_t arc_count;
    vugi_node *node;
    size_t node_count;
    uint32_t *link;
    uint32_t *sill; /* beside link: a span at the node from which liquid goes down into an arc
                       below, or air up into an arc above; else VUGI_NONE */
    size_t link_count;
    vugi_knot *knot;
    size_t knot_count;
    double capacity; /* mm3 */
} vugi_graph;

/* Builds the graph of one body. volume: the body's true volume, to which the columns' is scaled, or
 * 0 to keep theirs. gate: see vugi_sweep_run(). The columns must outlive the graph. Basins and domes of no more than a few
 * columns, an effect of the sampling, are counted to their neighbours. */
vug_status vugi_graph_build(vug_context *ctx, const vugi_allocator *mem,
    const vugi_columns *columns, int32_t body, double volume, const uint32_t *gate,
    vugi_query *query, size_t query_count, vugi_graph *graph);
void vugi_graph_free(const vugi_allocator *mem, vugi_graph *graph);

/* The arc at height z of what the sweep had as one, just under z or just above it; VUGI_NONE: none. The same of an arc
 * before cuts. */
uint32_t vugi_graph_arc(const vugi_graph *graph, uint32_t raw, double z, bool under);
uint32_t vugi_arc_piece(const vugi_graph *graph, uint32_t arc, double z, bool under);

/* Volume of an arc below z, area of its section just above z; the level to which a volume fills it. */
double vugi_arc_volume(const vugi_graph *graph, uint32_t arc, double z);
double vugi_arc_area(const vugi_graph *graph, uint32_t arc, double z);
double vugi_arc_level(const vugi_graph *graph, uint32_t arc, double volume);

/* All arcs below are full: liquid stands over the node. level: of each arc. */
bool vugi_node_flooded(const vugi_graph *graph, const double *level, uint32_t node);

/* The arcs that a span's floor and its ceiling are in; VUGI_NONE: none. */
uint32_t vugi_arc_at_floor(const vugi_graph *graph, size_t span);
uint32_t vugi_arc_at_ceiling(const vugi_graph *graph, size_t span);

/* The first arc below the node under an arc, which is no basin. */
static inline uint32_t vugi_arc_below(const vugi_graph *graph, uint32_t arc)
{
    return graph->link[graph->node[graph->arc[arc].from].link];
}

/* Nothing is below its foot, or above its crown, and no other arc begins or ends there. */
static inline bool vugi_arc_is_basin(const vugi_graph *graph, uint32_t arc)
{
    const vugi_node *foot = graph->node + graph->arc[arc].from;
    return foot->downs == 0 && foot->ups == 1;
}

static inline bool vugi_arc_is_dome(const vugi_graph *graph, uint32_t arc)
{
    const vugi_node *crown = graph->node + graph->arc[arc].to;
    return crown->ups == 0 && crown->downs == 1;
}

/* It hangs together with nothing: the whole cavity, or a scrap that columns leave of the rim of a narrow bore. */
static inline bool vugi_arc_is_alone(const vugi_graph *graph, uint32_t arc)
{
    return vugi_arc_is_basin(graph, arc) && vugi_arc_is_dome(graph, arc);
}

/* Point of a span at height z, in part coordinates. */
void vugi_span_point(const vugi_graph *graph, uint32_t span, double z, double part[3]);

#endif
