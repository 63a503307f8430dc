/* SPDX-License-Identifier: MIT */
#include "base/progress.h"

#include "base/clock.h"
#include "base/context_types.h"
#include "base/message.h"
#include "base/threads.h"

#include "vug.h"

/* Where there is no clock each look at it finds a second gone. */
static int64_t now_ns(const vug_context *ctx)
{
    int64_t now;
    return vugi_clock_ns(&now) ? now : ctx->called_ns + 1000000000;
}

void vug_context_cancel(vug_context *ctx)
{
    if (ctx)
        atomic_store(&ctx->cancel, 1);
}

double vug_context_progress(const vug_context *ctx)
{
    return ctx ? atomic_load(&ctx->fraction) : 0.0;
}

void vugi_progress_begin(vug_context *ctx, const char *stage)
{
    ctx->lo = 0.0;
    ctx->hi = 1.0;
    ctx->stage = stage;
    ctx->called_ns = now_ns(ctx);
    atomic_store(&ctx->fraction, 0.0);
}

vugi_range vugi_progress_enter(vug_context *ctx, double lo, double hi, const char *stage)
{
    vugi_range saved = {ctx->lo, ctx->hi, ctx->stage};
    double width = ctx->hi - ctx->lo;
    ctx->hi = ctx->lo + width * hi;
    ctx->lo = ctx->lo + width * lo;
    ctx->stage = stage;
    return saved;
}

void vugi_progress_leave(vug_context *ctx, vugi_range saved)
{
    ctx->lo = saved.lo;
    ctx->hi = saved.hi;
    ctx->stage = saved.stage;
}

bool vugi_cancelled(const vug_context *ctx)
{
    return atomic_load_explicit(&ctx->cancel, memory_order_relaxed) != 0
        || (ctx->above && vugi_cancelled(ctx->above));
}

/* Loops report far more often than anyone looks: the caller hears of it when the last time is long enough
 * ago, and of the end. */
static bool is_due(vug_context *ctx, double before, double fraction)
{
    int64_t now = now_ns(ctx);
    if (now - ctx->called_ns < ctx->pause_ns && !(fraction >= 1.0 && before < 1.0))
        return false;
    ctx->called_ns = now;
    return true;
}

/* Work beside others has no range of its own: the caller's thread says that it is still at it. */
static void report(vug_context *ctx, double fraction)
{
    if (ctx->above) {
        if (vugi_thread_index() == 0)
            report(ctx->above, 0.0);
        return;
    }
    double overall = ctx->lo + (ctx->hi - ctx->lo) * fraction, before = atomic_load(&ctx->fraction);
    if (overall > 1.0)
        overall = 1.0;
    if (overall < before)
        overall = before;
    atomic_store(&ctx->fraction, overall);
    if (ctx->progress && is_due(ctx, before, overall)
        && ctx->progress(ctx->progress_user, overall, ctx->stage) != 0)
        atomic_store(&ctx->cancel, 1);
}

bool vugi_pulse(vug_context *ctx, double fraction)
{
    if (vugi_thread_index() == 0 && !vugi_cancelled(ctx))
        report(ctx, fraction);
    return vugi_cancelled(ctx);
}

vug_status vugi_step(vug_context *ctx, double fraction)
{
    report(ctx, fraction);
    if (ctx->above ? !vugi_cancelled(ctx) : !atomic_exchange(&ctx->cancel, 0))
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_CANCELLED, "cancelled during %s", ctx->stage);
}
