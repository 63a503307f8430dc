/* SPDX-License-Identifier: MIT
 * Pockets of a list of poses, on all threads. */
#include "pose/pockets.h"

#include "base/threads.h"
#include "cavity/spacing.h"

#include <stdatomic.h>

typedef struct poses {
    const vug_cavities *cavities;
    vugi_pose_setup setup;
    double *up; /* unit */
    size_t count;
    vug_pockets **found;
    unsigned char *verdict;
} poses;

/* The thread that called reports progress, the others only look whether someone has cancelled. */
static vug_status look(vug_context *ctx, const poses *l)
{
    atomic_size_t done = 0;
    atomic_int stop = 0;
    vug_status stepped = VUG_OK; /* written by the calling thread alone */
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(ctx, l->count))
    for (size_t i = 0; i < l->count; i++) {
        if (vugi_thread_index() == 0 && !atomic_load(&stop)) {
            stepped = vugi_step(ctx, (double)atomic_load(&done) / (double)l->count);
            if (stepped)
                atomic_store(&stop, 1);
        }
        if (atomic_load(&stop))
            continue;
        l->verdict[i] = (unsigned char)vugi_pockets_make(NULL, &ctx->mem, l->cavities, &l->setup,
            l->up + 3 * i, l->found + i);
        if (l->verdict[i])
            atomic_store(&stop, 1);
        atomic_fetch_add(&done, 1);
    }
    return stepped;
}

/* The first pose that failed decides. */
static vug_status judge(vug_context *ctx, const poses *l)
{
    for (size_t i = 0; i < l->count; i++) {
        if (l->verdict[i] == VUG_ERR_MEMORY)
            return vugi_fail_memory(ctx);
        if (l->verdict[i])
            return vugi_fail(ctx, l->verdict[i], "pose %zu: %s; use a coarser spacing", i,
                vug_status_string(l->verdict[i]));
    }
    return vugi_step(ctx, 1.0);
}

static vug_status read_ups(vug_context *ctx, const double *ups, poses *l)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; i < l->count && !status; i++) {
        status = vugi_unit(ctx, "up", ups ? ups + 3 * i : NULL, l->up + 3 * i);
        if (status && ups && l->count > 1)
            status = vugi_fail(ctx, status,
                "up of pose %zu is (%g, %g, %g): it must be finite and not zero", i, ups[3 * i],
                ups[3 * i + 1], ups[3 * i + 2]);
    }
    return status;
}

/* A pose keeps its room, and lists its pockets in so much of the same again. */
static const double LISTED = 1.3;

vug_status vug_pockets_find_poses(vug_context *ctx, const vug_cavities *cavities, const double *ups,
    size_t count, const int32_t *roles, size_t role_count, const vug_pose_options *options,
    vug_pockets **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out || count == 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            count == 0 ? "count is 0: no pose to look at" : "cavities or out is NULL");
    vugi_progress_begin(ctx, "pockets");
    poses l = {.cavities = cavities, .count = count};
    l.up = vugi_alloc(&ctx->mem, count, 3 * sizeof *l.up);
    l.found = vugi_calloc(&ctx->mem, count, sizeof *l.found);
    l.verdict = vugi_calloc(&ctx->mem, count, 1);
    vug_status status = l.up && l.found && l.verdict ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = read_ups(ctx, ups, &l);
    if (!status)
        status = vugi_pose_setup_read(ctx, cavities, roles, role_count, options, VUGI_ACROSS,
            &l.setup);
    if (!status && vugi_memory_limited(ctx))
        status = vugi_expect_memory(ctx, (double)count * LISTED * vugi_pose_room_bytes(cavities),
            "keeping the pockets of so many poses");
    if (!status)
        status = look(ctx, &l);
    if (!status)
        status = judge(ctx, &l);
    for (size_t i = 0; l.found && i < count; i++) {
        if (status)
            vug_pockets_free(l.found[i]);
        else
            out[i] = l.found[i];
    }
    vugi_pose_setup_free(ctx, &l.setup);
    vugi_free(&ctx->mem, l.up);
    vugi_free(&ctx->mem, l.found);
    vugi_free(&ctx->mem, l.verdict);
    return status;
}

vug_status vug_pockets_find(vug_context *ctx, const vug_cavities *cavities, const double *up,
    const int32_t *roles, size_t role_count, const vug_pose_options *options, vug_pockets **out)
{
    return vug_pockets_find_poses(ctx, cavities, up, 1, roles, role_count, options, out);
}
