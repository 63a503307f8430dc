/* SPDX-License-Identifier: MIT
 * Many poses, on all threads. */
#include "plan/pose.h"

#include <math.h>

struct vug_pose_scan {
    vugi_allocator mem;
    size_t count, best;
    double *up;
    double *trapped;
};

/* Equal-area spiral: Saff and Kuijlaars, Math. Intelligencer 19(1), 1997; golden-angle turns as in
 * Gonzalez, Math. Geosci. 42, 2010. */
vug_status vug_sphere_points(size_t count, double *ups)
{
    if (count == 0 || !ups)
        return VUG_ERR_ARGUMENT;
    const double golden = acos(-1.0) * (3.0 - sqrt(5.0));
    for (size_t i = 0; i < count; i++) {
        double z = 1.0 - (2.0 * (double)i + 1.0) / (double)count;
        double r = sqrt(fmax(0.0, 1.0 - z * z)), turn = fmod(golden * (double)i, 2.0 * acos(-1.0));
        ups[3 * i] = r * cos(turn);
        ups[3 * i + 1] = r * sin(turn);
        ups[3 * i + 2] = z;
    }
    return VUG_OK;
}

void vug_pose_scan_free(vug_pose_scan *scan)
{
    if (!scan)
        return;
    vugi_free(&scan->mem, scan->up);
    vugi_free(&scan->mem, scan->trapped);
    vugi_allocator mem = scan->mem;
    vugi_free(&mem, scan);
}

static vug_pose_scan *scan_new(vug_context *ctx, size_t count)
{
    vug_pose_scan *scan = vugi_calloc(&ctx->mem, 1, sizeof *scan);
    if (!scan)
        return NULL;
    scan->mem = ctx->mem;
    scan->count = count;
    scan->up = vugi_alloc(&ctx->mem, 3 * count, sizeof *scan->up);
    scan->trapped = vugi_alloc(&ctx->mem, count, sizeof *scan->trapped);
    if (scan->up && scan->trapped)
        return scan;
    vug_pose_scan_free(scan);
    return NULL;
}

/* All poses of the scan; verdict[i] is the status of pose i. The thread that called reports
 * progress, the others only look whether someone has cancelled. */
static vug_status look(vug_context *ctx, const vug_cavities *cavities, const vugi_pose_setup *setup,
    vug_pose_scan *scan, unsigned char *verdict)
{
    atomic_size_t done = 0;
    atomic_int stop = 0;
    vug_status stepped = VUG_OK; /* written by the calling thread alone */
    int threads = vugi_threads(ctx, scan->count);
    (void)threads;
#pragma omp parallel num_threads(threads)
    {
        vugi_pose_room room = {.columns = {.nx = 0}};
#pragma omp for schedule(dynamic, 4)
        for (size_t i = 0; i < scan->count; i++) {
            if (vugi_thread_index() == 0 && !atomic_load(&stop)) {
                stepped = vugi_step(ctx, (double)atomic_load(&done) / (double)scan->count);
                if (stepped)
                    atomic_store(&stop, 1);
            }
            if (atomic_load(&stop))
                continue;
            verdict[i] = (unsigned char)vugi_pose_trap(NULL, &ctx->mem, cavities, setup,
                scan->up + 3 * i, &room);
            if (verdict[i])
                atomic_store(&stop, 1);
            else
                scan->trapped[i] = vugi_flood_trapped(&room.columns, &room.flood);
            atomic_fetch_add(&done, 1);
        }
        vugi_pose_room_free(&ctx->mem, &room);
    }
    return stepped;
}

/* The first pose that failed decides. */
static vug_status judge(vug_context *ctx, const unsigned char *verdict, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (verdict[i] == VUG_ERR_MEMORY)
            return vugi_fail_memory(ctx);
        if (verdict[i])
            return vugi_fail(ctx, verdict[i], "pose %zu of the scan: %s; use a coarser spacing", i,
                vug_status_string(verdict[i]));
    }
    return vugi_step(ctx, 1.0);
}

vug_status vug_pose_scan_run(vug_context *ctx, const vug_cavities *cavities, const int32_t *roles,
    size_t role_count, const vug_pose_options *options, vug_pose_scan **out)
{
    vugi_pose_setup setup;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or out is NULL");
    vugi_progress_begin(ctx, "pose scan");
    vug_status status = vugi_pose_setup_read(ctx, cavities, roles, role_count, options, 200, &setup);
    if (status)
        return status;
    unsigned char *verdict = vugi_calloc(&ctx->mem, setup.pose_count, 1);
    vug_pose_scan *scan = scan_new(ctx, setup.pose_count);
    if (!scan || !verdict) {
        vugi_free(&ctx->mem, verdict);
        vug_pose_scan_free(scan);
        return vugi_fail_memory(ctx);
    }
    vug_sphere_points(scan->count, scan->up);
    status = look(ctx, cavities, &setup, scan, verdict);
    if (!status)
        status = judge(ctx, verdict, scan->count);
    vugi_free(&ctx->mem, verdict);
    if (status) {
        vug_pose_scan_free(scan);
        return status;
    }
    for (size_t i = 1; i < scan->count; i++)
        if (scan->trapped[i] < scan->trapped[scan->best])
            scan->best = i;
    *out = scan;
    return VUG_OK;
}

size_t vug_pose_scan_count(const vug_pose_scan *scan)
{
    return scan ? scan->count : 0;
}

const double *vug_pose_scan_ups(const vug_pose_scan *scan)
{
    return scan ? scan->up : NULL;
}

const double *vug_pose_scan_trapped_mm3(const vug_pose_scan *scan)
{
    return scan ? scan->trapped : NULL;
}

size_t vug_pose_scan_best(const vug_pose_scan *scan)
{
    return scan ? scan->best : 0;
}
