/* SPDX-License-Identifier: MIT
 * The surface as it is met from one side: over a grid across an axis the first solid going up. */
#ifndef VUGI_SHAPE_ENVELOPE_H
#define VUGI_SHAPE_ENVELOPE_H

#include "shape/bore/line.h"

enum { VUGI_ENVELOPE_MOST = 4000000 }; /* nodes */

typedef struct vugi_envelope {
    vugi_allocator mem;
    double lo[2], step;
    size_t across[2];
    double *w;        /* of each node; INFINITY: nothing there */
    uint8_t *blocked; /* 1: solid where the way begins */
} vugi_envelope;

/* Over the rectangle from lo to hi, which needs no more than VUGI_ENVELOPE_MOST nodes, from w = start on.
 * Errors: VUG_ERR_MEMORY, VUG_ERR_CANCELLED, with their messages. */
vug_status vugi_envelope_make(vug_context *ctx, const vugi_carving *carving, const vugi_tool *frame,
    const vugi_reachable *list, const double lo[2], const double hi[2], double step, double start,
    vugi_envelope *envelope);

/* Each node gets the least of those around it, as far as reach_mm and one step at least. */
vug_status vugi_envelope_widen(vug_context *ctx, vugi_envelope *envelope, double reach_mm);

/* The least of the four nodes around a place in the rectangle. */
double vugi_envelope_at(const vugi_envelope *envelope, double u, double v);

void vugi_envelope_free(vugi_envelope *envelope);

#endif
