/* SPDX-License-Identifier: MIT
 * Questions to a sweep that is done. */
#ifndef VUGI_GRAVITY_TRACE_H
#define VUGI_GRAVITY_TRACE_H

#include "gravity/sweep.h"

/* Answers queries as vugi_sweep_run() with them does: by the arcs that lead up from the floor of the span, or down from its
 * ceiling. Only where arcs part and join in between is the sweep run once more. */
vug_status vugi_sweep_ask(vug_context *ctx, const vugi_allocator *mem, const vugi_sweep *sweep,
    vugi_query *query, size_t count);

#endif
