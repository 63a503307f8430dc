/* SPDX-License-Identifier: MIT
 * Many poses, on all threads. */
#include "base/angle.h"
#include "base/bitset.h"
#include "pose/pose.h"
#include "pose/rotation.h"
#include "pose/stability.h"

#include "cavity/rim.h"
#include "cavity/trust.h"
#include "column/pose.h"
#include "mesh/measure.h"

#include <math.h>
#include <string.h>

struct vug_pose_scan {
    vugi_allocator mem;
    size_t count, best;
    bool criteria, trusted;
    double *up;
    double *trapped;
    vug_pose_info *info;
    uint32_t **cover; /* of each pose, as in its info */
    size_t room;
};

enum { RING = 6, REFINING = 40 }; /* poses of one round, rounds at most */

vug_status vug_sphere_points(size_t count, double *ups)
{
    if (count == 0 || !ups)
        return VUG_ERR_ARGUMENT;
    for (size_t i = 0; i < count; i++)
        vugi_sphere_point(i, count, ups + 3 * i);
    return VUG_OK;
}

void vug_pose_scan_free(vug_pose_scan *scan)
{
    if (!scan)
        return;
    vugi_free(&scan->mem, scan->up);
    vugi_free(&scan->mem, scan->trapped);
    for (size_t i = 0; scan->cover && i < scan->room; i++)
        vugi_free(&scan->mem, scan->cover[i]);
    vugi_free(&scan->mem, scan->cover);
    vugi_free(&scan->mem, scan->info);
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
    scan->room = count += RING * REFINING;
    scan->up = vugi_alloc(&ctx->mem, 3 * count, sizeof *scan->up);
    scan->trapped = vugi_alloc(&ctx->mem, count, sizeof *scan->trapped);
    scan->info = vugi_alloc(&ctx->mem, count, sizeof *scan->info);
    scan->cover = vugi_calloc(&ctx->mem, count, sizeof *scan->cover);
    if (scan->up && scan->trapped && scan->info && scan->cover)
        return scan;
    vug_pose_scan_free(scan);
    return NULL;
}

/* ---- what a pose comes to --------------------------------------------------------- */

/* Heights of the lips, and which openings lie below the highest. */
static void measure_lips(const vug_cavities *c, const vugi_pose_setup *setup, vug_pose_info *info,
    vugi_bitset *cover)
{
    bool any = false;
    for (int pass = 0; pass < 2; pass++) {
        for (size_t i = 0; i < c->opening_count; i++) {
            double top, lip;
            if (setup->role[i] == VUG_ROLE_SEALED)
                continue;
            vugi_opening_outer_rim(c->opening + i, info->up, &top, &lip);
            if (pass == 1 && lip < info->highest_lip_mm - 0.05)
                vugi_bitset_add(cover, i);
            if (pass == 1)
                continue;
            info->lowest_lip_mm = any ? fmin(info->lowest_lip_mm, lip) : lip;
            info->highest_lip_mm = any ? fmax(info->highest_lip_mm, lip) : lip;
            any = true;
        }
    }
}

/* *list: the openings to cover, which info points to. */
static vug_status find_lips(const vugi_allocator *mem, const vug_cavities *c,
    const vugi_pose_setup *setup, vug_pose_info *info, uint32_t **list)
{
    vugi_bitset cover;
    bool good = vugi_bitset_make(mem, c->opening_count, &cover);
    if (good) {
        measure_lips(c, setup, info, &cover);
        good = vugi_bitset_list(mem, &cover, list, &info->cover_count);
        info->cover = *list;
    }
    vugi_bitset_free(mem, &cover);
    return good ? VUG_OK : VUG_ERR_MEMORY;
}

typedef struct looking {
    const vug_cavities *cavities;
    const vugi_pose_setup *setup;
    vug_pose_scan *scan;
    double center[3]; /* of mass of the part */
} looking;

/* Trapped air; liquid that does not drain is air that would be trapped upside down. */
static vug_status look_at(const vugi_allocator *mem, const looking *l, size_t i,
    vugi_pose_room *room)
{
    vug_pose_scan *scan = l->scan;
    vug_pose_info *info = scan->info + i;
    *info = (vug_pose_info){.struct_size = sizeof *info, .criteria = scan->criteria};
    memcpy(info->up, scan->up + 3 * i, sizeof info->up);
    vug_status status = vugi_pose_trap(NULL, mem, l->cavities, l->setup, info->up, room);
    if (status)
        return status;
    vugi_pose_sums sums;
    if ((status = vugi_pose_sum(NULL, mem, l->cavities, l->setup, room, &sums)))
        return status;
    scan->trapped[i] = info->trapped_mm3 = sums.trapped;
    info->trapped_error_mm3 = sums.trapped_error;
    info->trusted = scan->trusted;
    status = find_lips(mem, l->cavities, l->setup, info, scan->cover + i);
    if (status || !scan->criteria)
        return status;
    status = vugi_pose_trap_over(NULL, mem, l->cavities, l->setup, room);
    if (status)
        return status;
    if ((status = vugi_pose_sum(NULL, mem, l->cavities, l->setup, room, &sums)))
        return status;
    info->residue_mm3 = sums.trapped;
    info->residue_error_mm3 = sums.trapped_error;
    return vugi_static_margin(mem, l->cavities->part, l->center, info->up, 0.05, &info->stand_mm);
}

/* Poses first .. last - 1; verdict[i] is the status of pose i. The thread that called reports
 * progress, the others only look whether someone has cancelled. */
static vug_status look(vug_context *ctx, const looking *l, size_t first, size_t last,
    unsigned char *verdict)
{
    atomic_size_t done = 0;
    atomic_int stop = 0;
    vug_status stepped = VUG_OK; /* written by the calling thread alone */
    int threads = vugi_threads(ctx, last - first);
    (void)threads;
#pragma omp parallel num_threads(threads)
    {
        vugi_pose_room room = {.columns = {.nx = 0}};
#pragma omp for schedule(dynamic, 4)
        for (size_t i = first; i < last; i++) {
            if (vugi_thread_index() == 0 && !atomic_load(&stop)) {
                stepped = vugi_step(ctx, (double)atomic_load(&done) / (double)(last - first));
                if (stepped)
                    atomic_store(&stop, 1);
            }
            if (atomic_load(&stop))
                continue;
            verdict[i] = (unsigned char)look_at(&ctx->mem, l, i, &room);
            if (verdict[i])
                atomic_store(&stop, 1);
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

static void choose_best(vug_pose_scan *scan)
{
    for (size_t i = 0; i < scan->count; i++)
        if (scan->trapped[i] < scan->trapped[scan->best])
            scan->best = i;
}

/* A ring of poses around the best, as wide as their spacing; half as wide when none is better. */
static vug_status refine(vug_context *ctx, const looking *l, double least_deg,
    unsigned char *verdict)
{
    vug_pose_scan *scan = l->scan;
    vug_status status = VUG_OK;
    double step = 90.0 / sqrt((double)scan->count);
    for (int round = 0; round < REFINING && step >= least_deg && !status; round++) {
        size_t first = scan->count, before = scan->best;
        double basis[9], middle[3];
        memcpy(middle, scan->up + 3 * scan->best, sizeof middle);
        vugi_basis(middle, basis);
        for (int k = 0; k < RING; k++) {
            double axis[3], angle = 2.0 * VUGI_PI * k / RING;
            for (int j = 0; j < 3; j++)
                axis[j] = cos(angle) * basis[j] + sin(angle) * basis[3 + j];
            vugi_rotation_up(middle, axis, step, scan->up + 3 * (first + (size_t)k));
        }
        status = look(ctx, l, first, first + RING, verdict);
        if (!status)
            status = judge(ctx, verdict, first + RING);
        if (status)
            break;
        scan->count += RING;
        choose_best(scan);
        if (scan->best == before)
            step *= 0.5;
    }
    return status;
}

static vug_status run(vug_context *ctx, const looking *l)
{
    vug_pose_scan *scan = l->scan;
    double least = l->setup->options.refine_deg;
    unsigned char *verdict = vugi_calloc(&ctx->mem, scan->count + RING * REFINING, 1);
    if (!verdict)
        return vugi_fail_memory(ctx);
    vugi_range range = vugi_progress_enter(ctx, 0.0, least > 0.0 ? 0.9 : 1.0, "pose scan");
    vug_status status = look(ctx, l, 0, scan->count, verdict);
    if (!status)
        status = judge(ctx, verdict, scan->count);
    vugi_progress_leave(ctx, range);
    choose_best(scan);
    if (!status && least > 0.0)
        status = refine(ctx, l, least, verdict);
    vugi_free(&ctx->mem, verdict);
    return status;
}

/* Of measuring the part, bytes for each of its triangles. */
static const double PER_TRIANGLE = 30.0;

/* The part is measured before there are poses. */
static vug_status expect_memory(vug_context *ctx, const vug_cavities *cavities,
    const vugi_pose_setup *setup)
{
    if (!vugi_memory_limited(ctx))
        return VUG_OK;
    const size_t each = 4 * sizeof(double) + sizeof(vug_pose_info) + sizeof(uint32_t *) + 1;
    double room = vugi_pose_room_bytes(cavities);
    double rooms = vugi_threads(ctx, setup->pose_count) * room;
    double poses = ((double)setup->pose_count + RING * REFINING) * (double)each;
    double measuring = setup->options.criteria
        ? PER_TRIANGLE * (double)cavities->part->triangle_count
        : 0.0;
    return vugi_expect_memory(ctx, fmax(poses + rooms, measuring), "scanning so many poses");
}

vug_status vug_pose_scan_run(vug_context *ctx, const vug_cavities *cavities, const int32_t *roles,
    size_t role_count, const vug_pose_options *options, vug_pose_scan **out)
{
    vugi_pose_setup setup = {.role = NULL};
    vug_mesh_measures measures = {.struct_size = sizeof measures};
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or out is NULL");
    vugi_progress_begin(ctx, "pose scan");
    vug_status status = vugi_pose_setup_read(ctx, cavities, roles, role_count, options, 200,
        &setup);
    if (!status)
        status = expect_memory(ctx, cavities, &setup);
    vugi_range saved = vugi_progress_enter(ctx, 0.0, 0.02, "measuring");
    if (!status && setup.options.criteria)
        status = vugi_mesh_measure(ctx, cavities->part, &measures);
    vugi_progress_leave(ctx, saved);
    vug_pose_scan *scan = status ? NULL : scan_new(ctx, setup.pose_count);
    if (!status && !scan)
        status = vugi_fail_memory(ctx);
    if (status) {
        vugi_pose_setup_free(ctx, &setup);
        return status;
    }
    scan->criteria = setup.options.criteria != 0;
    scan->trusted = vugi_cavities_trusted(cavities);
    looking l = {cavities, &setup, scan, {0.0, 0.0, 0.0}};
    memcpy(l.center, measures.centroid_mm, sizeof l.center);
    vug_sphere_points(scan->count, scan->up);
    status = run(ctx, &l);
    vugi_pose_setup_free(ctx, &setup);
    if (status)
        vug_pose_scan_free(scan);
    else
        *out = scan;
    return status;
}

vug_status vug_pose_scan_get(const vug_pose_scan *scan, size_t index, vug_pose_info *info)
{
    if (!scan || !info)
        return VUG_ERR_ARGUMENT;
    if (index >= scan->count)
        return VUG_ERR_NOT_FOUND;
    return vugi_struct_write(NULL, info, scan->info + index, sizeof *scan->info, "vug_pose_info");
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
