/* SPDX-License-Identifier: MIT */
#include "base/context_types.h"
#include "base/memory.h"
#include "base/structs.h"
#include "base/threads.h"

#include "vug.h"

#include <stdio.h>
#include <string.h>

static const vug_context_options context_defaults = {
    .struct_size = sizeof(vug_context_options),
};

vug_status vug_context_options_init(vug_context_options *options, size_t size)
{
    return vugi_struct_init(options, size, &context_defaults, sizeof context_defaults);
}

vug_status vug_context_create(const vug_context_options *options, vug_context **out)
{
    vug_context_options own = context_defaults;
    if (!out)
        return VUG_ERR_ARGUMENT;
    vug_status status = vugi_struct_read(NULL, &own, sizeof own, options, "vug_context_options");
    if (status)
        return status;
    if (own.threads > VUG_MAX_THREADS)
        return VUG_ERR_LIMIT;
    bool all = own.alloc && own.realloc && own.free;
    bool none = !own.alloc && !own.realloc && !own.free;
    if (!all && !none)
        return VUG_ERR_ARGUMENT;

    vugi_allocator mem = vugi_default_allocator;
    if (all)
        mem = (vugi_allocator){own.alloc, own.realloc, own.free, own.alloc_user};
    vugi_quota *limit = NULL;
    if (own.memory_limit_bytes > 0 && !(limit = vugi_quota_new(&mem, own.memory_limit_bytes)))
        return VUG_ERR_MEMORY;
    vug_context *ctx = vugi_calloc(&mem, 1, sizeof *ctx);
    if (!ctx) {
        vugi_quota_leave(limit);
        return VUG_ERR_MEMORY;
    }
    ctx->limit = limit;
    ctx->pause_ns = 50 * 1000 * 1000; /* 20 times a second */
    ctx->mem = mem;
    ctx->threads = own.threads;
    ctx->progress = own.progress;
    ctx->progress_user = own.progress_user;
    ctx->hi = 1.0;
    ctx->stage = "";
    atomic_init(&ctx->cancel, 0);
    atomic_init(&ctx->fraction, 0.0);
    if (ctx->threads == 0)
        ctx->threads = (uint32_t)vugi_threads(NULL, VUG_MAX_THREADS);
    *out = ctx;
    return VUG_OK;
}

void vug_context_free(vug_context *ctx)
{
    if (!ctx)
        return;
    vug_context_clear_warnings(ctx);
    vugi_allocator mem = ctx->mem;
    vugi_quota *limit = ctx->limit;
    vugi_free(&mem, ctx);
    vugi_quota_leave(limit);
}

void vug_free(vug_context *ctx, void *ptr)
{
    if (ctx)
        vugi_free(&ctx->mem, ptr);
}

uint32_t vug_context_threads(const vug_context *ctx)
{
    return ctx ? ctx->threads : 0;
}

vug_status vug_context_set_progress(vug_context *ctx, vug_progress_fn progress, void *user)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    ctx->progress = progress;
    ctx->progress_user = user;
    return VUG_OK;
}

/* ---- messages and warnings ------------------------------------------------ */

const char *vug_context_message(const vug_context *ctx)
{
    return ctx ? ctx->message : "";
}

const char *vug_context_warning(const vug_context *ctx, size_t index)
{
    return ctx && index < ctx->warning_count ? ctx->warnings[index] : NULL;
}

void vug_context_clear_warnings(vug_context *ctx)
{
    if (!ctx)
        return;
    for (size_t i = 0; i < ctx->warning_count; i++)
        vugi_free(&ctx->mem, ctx->warnings[i]);
    ctx->warning_count = 0;
}
