/* SPDX-License-Identifier: MIT
 * The raw arcs of a sweep, reduced to those that matter. */
#ifndef VUGI_GRAVITY_REDUCE_H
#define VUGI_GRAVITY_REDUCE_H

#include "gravity/sweep.h"

typedef struct vugi_work_arc {
    uint32_t lo, hi, from, to;
    uint32_t next_up, next_down; /* next of the arcs above `from`, of those below `to` */
    uint32_t into;               /* the arc it became part of, or itself; VUGI_NONE: gone */
    double volume;
    double top, lip; /* see vugi_reduced_pass() */
} vugi_work_arc;

typedef struct vugi_work_node {
    uint32_t key, span;
    uint32_t up, down; /* first of its arcs above and below */
    uint32_t ups, downs;
    uint32_t into;
    double z;
} vugi_work_node;

typedef struct vugi_reduced {
    vugi_work_arc *arc;
    size_t arc_count;
    vugi_work_node *node;
    size_t node_count;
} vugi_reduced;

vug_status vugi_reduce(vug_context *ctx, const vugi_allocator *mem, const vugi_sweep *sweep,
    vugi_reduced *out);
void vugi_reduced_free(const vugi_allocator *mem, vugi_reduced *out);

/* The arc or node that a raw one became part of. */
uint32_t vugi_reduced_arc(const vugi_reduced *r, uint32_t arc);
/* What is in the arc that a raw one became part of gets into the raw one at such heights alone: air while liquid is
 * below top, liquid while it is above lip. */
void vugi_reduced_pass(const vugi_reduced *r, uint32_t arc, double *top, double *lip);
uint32_t vugi_reduced_node(const vugi_reduced *r, uint32_t node);

#endif
