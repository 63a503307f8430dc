/* SPDX-License-Identifier: MIT
 * What a context holds, for the files of this floor. */
#ifndef VUGI_BASE_CONTEXT_TYPES_H
#define VUGI_BASE_CONTEXT_TYPES_H

#include "base/quota.h"
#include "base/memory.h"

#include "vug.h"

#include <stdatomic.h>

enum { VUGI_MESSAGE_SIZE = 512, VUGI_WARNINGS = 64 };

struct vug_context {
    vugi_allocator mem;
    uint32_t threads;
    vug_progress_fn progress;
    void *progress_user;
    double lo, hi; /* the part of 0..1 that the running stage covers */
    const char *stage;
    int64_t called_ns; /* when progress was called last, or the call began */
    int64_t pause_ns;  /* least time between two calls of it */
    vugi_quota *limit; /* of mem; or NULL: none */
    vug_context *
        above; /* of work beside others: the caller's, who cancels it and hears how far it is; else NULL */
    atomic_int cancel;
    _Atomic double fraction;
    char message[VUGI_MESSAGE_SIZE];
    size_t warning_count;
    char *warnings[VUGI_WARNINGS];
};

/* For work beside others in a thread of its own: messages and progress stay with the caller's, whose cancelling ends it
 * with VUG_ERR_CANCELLED; vugi_step() with the caller's own, after the threads, then returns that. */
static inline vug_context vugi_context_beside(vug_context *ctx)
{
    return (vug_context){.mem = ctx->mem,
        .limit = ctx->limit,
        .above = ctx,
        .threads = 1,
        .hi = 1.0,
        .stage = ""};
}

#endif
