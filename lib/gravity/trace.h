/* SPDX-License-Identifier: MIT
 * Questions to a sweep that is done. */
#ifndef VUGI_GRAVITY_TRACE_H
#define VUGI_GRAVITY_TRACE_H

#include "gravity/sweep.h"

/* Answers queries about spans that are in the section at some height, as vugi_sweep_run() with them does. */
vug_status vugi_sweep_ask(vug_context *ctx, const vugi_allocator *mem, const vugi_sweep *sweep,
    vugi_query *query, size_t count);

#endif
