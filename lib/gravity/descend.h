/* SPDX-License-Identifier: MIT
 * Where liquid runs to that is let go somewhere: over the floors of the spans, always the lowest
 * next, filling hollows that the sampling makes and spilling out of them, until it is in a basin of
 * the gravity graph. */
#ifndef VUGI_GRAVITY_DESCEND_H
#define VUGI_GRAVITY_DESCEND_H

#include "gravity/graph.h"
#include "gravity/sweep.h"

/* The basin's arc in which liquid ends up that is let go at span, running down the floors, without
 * going into arcs that are barred (NULL: none); VUGI_NONE if there is no such way. room: scratch. */
typedef struct vugi_descent {
    uint32_t *mark, stamp;
    struct vugi_descent_entry *heap;
    size_t count, capacity;
    uint32_t *passed;
    size_t passes, passed_capacity;
} vugi_descent;

vug_status vugi_descend(vug_context *ctx, const vugi_allocator *mem, const vugi_graph *graph,
    vugi_descent *room, uint32_t span, const bool *blocked, uint32_t *arc);

/* The same for many spans: landing[span] is set for those on the way too, and what is known already is
 * not looked for again. All are VUGI_UNKNOWN to start with. */
#define VUGI_UNKNOWN (VUGI_NONE - 1)
vug_status vugi_descend_known(vug_context *ctx, const vugi_allocator *mem, const vugi_graph *graph,
    vugi_descent *room, uint32_t span, uint32_t *landing);

/* A basin below an arc, by the graph alone. */
uint32_t vugi_basin_below(const vugi_graph *graph, uint32_t arc);

void vugi_descent_free(const vugi_allocator *mem, vugi_descent *room);

#endif
