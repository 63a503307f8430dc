/* SPDX-License-Identifier: MIT
 * The sweep: the horizontal section of a cavity, from its lowest point to its highest. At any height
 * a column has at most one span there, so the section is a set of pixels, and its 4-connected pieces
 * are followed as pixels come and go. A piece that neither joins nor parts is one raw arc. */
#ifndef VUGI_GRAVITY_SWEEP_H
#define VUGI_GRAVITY_SWEEP_H

#include "column/column.h"

#define VUGI_NONE UINT32_MAX /* no arc, no span, no node */

/* Heights are rounded to 2^-32 of the height of the cavity, so that flat floors and ceilings of a
 * turned mesh are flat again and each sweep of the same columns goes the same way. */
typedef struct vugi_scale {
    double zero, step;
} vugi_scale;

typedef struct vugi_raw_arc {
    uint32_t lo, hi;   /* keys */
    uint32_t from, to; /* raw nodes below and above */
    uint32_t
        next; /* arc that its pixels are in when it has ended, but those that move; VUGI_NONE: it has none */
    double volume; /* in pixels times mm */
} vugi_raw_arc;

typedef struct vugi_raw_node {
    uint32_t key;
    uint32_t span; /* where it happens */
    double z;      /* exact: the floor or the ceiling of span */
} vugi_raw_node;

/* A change of the section: pixels and the edges of its outline along rows and columns, and along
 * diagonals. In order of key of z. */
typedef struct vugi_change {
    double z; /* exact */
    uint32_t arc;
    int32_t pixels, straight, diagonal;
} vugi_change;

/* Where arcs meet: a span beside the meeting place through which liquid goes down into an arc below,
 * or air up into an arc above. */
typedef struct vugi_sill {
    uint32_t node, arc, span;
} vugi_sill;

/* The pixel of a span goes over to an arc that comes off the one it was in. In order of key. */
typedef struct vugi_arc_move {
    uint32_t key, span, arc;
} vugi_arc_move;

/* Asks which arc a span lies in at a height; below: just under it. The sweep answers in arc, the graph by what heights
 * (see vugi_reduced_pass()) the rest of that arc comes to the span's part of it. */
typedef struct vugi_query {
    uint32_t span, arc;
    double z;
    bool below;
    double top, lip;
} vugi_query;

typedef struct vugi_sweep {
    const vugi_columns *columns;
    int32_t body;
    const uint32_t *gate; /* of each span, see vugi_sweep_run() */
    vugi_scale scale;
    vugi_raw_arc *arc;
    size_t arc_count, arc_capacity;
    vugi_raw_node *node;
    size_t node_count, node_capacity;
    vugi_change *change;
    size_t change_count, change_capacity;
    vugi_sill *sill;
    size_t sill_count, sill_capacity;
    vugi_arc_move *move;
    size_t move_count, move_capacity;
    uint32_t *floor_arc;   /* of each span: the arc at its floor; VUGI_NONE in other bodies */
    uint32_t *ceiling_arc; /* and at its ceiling */
    uint32_t *column;      /* of each span */
    uint64_t *event;       /* spans that come and go, in order of key; NULL in a mirrored scene */
    size_t event_count;
} vugi_sweep;

uint32_t vugi_scale_key(vugi_scale scale, double z);

/* Sweeps one body of the columns, which must outlive the result, as must the gates. Answers the queries. gate: of each
 * span 0, or 1 + 2 door + side: spans on either side of a door are not joined there; NULL: no doors. */
vug_status vugi_sweep_run(vug_context *ctx, const vugi_allocator *mem, const vugi_columns *columns,
    int32_t body, const uint32_t *gate, vugi_query *query, size_t query_count, vugi_sweep *sweep);
void vugi_sweep_free(const vugi_allocator *mem, vugi_sweep *sweep);

/* Key at which a query is answered: within its span. */
uint32_t vugi_query_key(const vugi_sweep *sweep, const vugi_query *query);

/* A door is between two spans. */
bool vugi_gates_part(const uint32_t *gate, uint32_t span, uint32_t other);

/* Of an event, whose upper half is its key: does a span begin, and which? */
static inline bool vugi_event_begins(uint64_t event)
{
    return event >> 31 & 1;
}
static inline uint32_t vugi_event_span(uint64_t event)
{
    return (uint32_t)(event & 0x7fffffff);
}

#endif
