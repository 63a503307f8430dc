/* SPDX-License-Identifier: MIT
 * Messages of failed calls, and warnings. */
#include "base/message.h"

#include "base/context_types.h"
#include "base/memory.h"

#include "vug.h"

#include <stdarg.h>

vug_status vugi_fail(vug_context *ctx, vug_status status, const char *format, ...)
{
    if (ctx) {
        va_list args;
        va_start(args, format);
        vugi_vprint(ctx->message, sizeof ctx->message, format, args);
        va_end(args);
    }
    return status;
}

vug_status vugi_fail_memory(vug_context *ctx)
{
    uint64_t used, most, refused = ctx ? vugi_quota_refused(ctx->limit, &used, &most) : 0;
    if (refused)
        return vugi_fail(ctx, VUG_ERR_MEMORY,
            "the context's limit is %.3g MB of memory: %.3g MB are in use and %.3g MB more are "
            "needed; use "
            "a coarser grid or a smaller mesh, or raise the limit",
            1e-6 * (double)most, 1e-6 * (double)used, 1e-6 * (double)refused);
    return vugi_fail(ctx, VUG_ERR_MEMORY,
        "out of memory: use a coarser grid or a smaller mesh, or give the process more memory");
}

bool vugi_memory_limited(const vug_context *ctx)
{
    return ctx && ctx->limit;
}

vug_status vugi_expect_memory(vug_context *ctx, double bytes, const char *work)
{
    if (!vugi_memory_limited(ctx))
        return VUG_OK;
    uint64_t most, used = vugi_quota_used(ctx->limit, &most);
    if ((double)used + bytes <= (double)most)
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_MEMORY,
        "%s would take about %.3g MB: the context's limit is %.3g MB, and %.3g MB of it are in "
        "use; use a coarser grid or a smaller mesh, or raise the limit",
        work, 1e-6 * bytes, 1e-6 * (double)most, 1e-6 * (double)used);
}

void vugi_warn(vug_context *ctx, const char *format, ...)
{
    if (!ctx || ctx->warning_count == VUGI_WARNINGS)
        return;
    char *text = vugi_alloc(&ctx->mem, VUGI_MESSAGE_SIZE, 1);
    if (!text)
        return;
    va_list args;
    va_start(args, format);
    vugi_vprint(text, VUGI_MESSAGE_SIZE, format, args);
    va_end(args);
    ctx->warnings[ctx->warning_count++] = text;
}
