/* SPDX-License-Identifier: MIT
 * Benchmark of poses on the coral: one pose along the walls and how its time grows with the number of triangles, its columns at
 * three spacings, the scan on one and two threads, for the trapped air alone and with all criteria (residue,
 * lips, standing). Usage: bench_pose [MESH HOLE...] (holes as 7 numbers). */
#define _POSIX_C_SOURCE 200809L

#include "bench.h"
#include "cavity/cavity.h"
#include "column/columns.h"
#include "pose/pose.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static vug_cavities *load(vug_context *ctx, const char *path, const double *holes, size_t count)
{
    vug_mesh *mesh = NULL;
    vug_cavities *cavities = NULL;
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    bench_must(ctx, vug_mesh_load(ctx, path, NULL, &mesh));
    double start = bench_now();
    bench_must(ctx, vug_cavities_find(ctx, mesh, holes, count, &options, &cavities));
    printf("%s: %zu triangles, named holes cut in %.0f ms\n", path, vug_mesh_triangle_count(mesh),
        1e3 * (bench_now() - start));
    vug_mesh_free(mesh);
    return cavities;
}

/* Best of some runs of one pose, in seconds of processor time. */
static double one_pose(vug_context *ctx, const vug_cavities *cavities, int runs)
{
    vug_pose_options options;
    vugi_pose_setup setup;
    vugi_pose_room room = {.sound = false};
    vugi_pose_sums sums;
    const double up[3] = {0.36, 0.48, -0.8};
    double best = INFINITY;
    vug_pose_options_init(&options, sizeof options);
    bench_must(ctx, vugi_pose_setup_read(ctx, cavities, NULL, 0, &options, 280, &setup));
    for (int i = 0; i < runs; i++) {
        double start = bench_cpu();
        bench_must(ctx, vugi_pose_trap(ctx, &ctx->mem, cavities, &setup, up, &room));
        bench_must(ctx, vugi_pose_sum(ctx, &ctx->mem, cavities, &setup, &room, &sums));
        best = fmin(best, bench_cpu() - start);
    }
    printf("one pose at 1/280   %8.2f ms  trapped %.2f mm3%s\n", 1e3 * best, sums.trapped,
        room.sound ? "" : ", by columns");
    vugi_pose_room_free(&ctx->mem, &room);
    vugi_pose_setup_free(ctx, &setup);
    return best;
}

/* The same of the columns of a pose, for drawings and for what happens in time. */
static double columns_of(vug_context *ctx, const vug_cavities *cavities, uint32_t across, int runs)
{
    vug_pose_options options;
    vugi_pose_setup setup;
    vugi_columns columns = {.nx = 0};
    const double up[3] = {0.36, 0.48, -0.8};
    double best = INFINITY;
    vug_pose_options_init(&options, sizeof options);
    bench_must(ctx, vugi_pose_setup_read(ctx, cavities, NULL, 0, &options, across, &setup));
    for (int i = 0; i < runs; i++) {
        double start = bench_cpu();
        bench_must(ctx, vugi_pose_columns(ctx, &ctx->mem, cavities, setup.spacing, up, &columns));
        best = fmin(best, bench_cpu() - start);
    }
    printf("columns at 1/%-5u  %8.2f ms  %8zu spans\n", across, 1e3 * best, columns.count);
    vugi_columns_free(&ctx->mem, &columns);
    vugi_pose_setup_free(ctx, &setup);
    return best;
}

/* Poses a second. On a machine that does other things too, those of a second of processor time tell
 * more. */
static double scan(const vug_cavities *cavities, uint32_t threads, uint32_t poses, int32_t criteria)
{
    vug_context *ctx = NULL;
    vug_context_options options;
    vug_pose_options pose;
    vug_pose_scan *result = NULL;
    vug_context_options_init(&options, sizeof options);
    options.threads = threads;
    if (vug_context_create(&options, &ctx))
        exit(1);
    vug_pose_options_init(&pose, sizeof pose);
    pose.pose_count = poses;
    pose.columns_across = 200;
    pose.criteria = criteria;
    double start = bench_now(), spent = bench_cpu();
    bench_must(ctx, vug_pose_scan_run(ctx, cavities, NULL, 0, &pose, &result));
    double rate = poses / (bench_now() - start);
    const double *up = vug_pose_scan_ups(result) + 3 * vug_pose_scan_best(result);
    printf("scan at 1/200, %s, %u thread(s) %6.0f poses/s, %6.0f per processor second  best "
           "(%.2f, %.2f, %.2f) traps %.2f mm3\n",
        criteria ? "all criteria" : "trapped air ", threads, rate, poses / (bench_cpu() - spent),
        up[0], up[1], up[2], vug_pose_scan_trapped_mm3(result)[vug_pose_scan_best(result)]);
    vug_pose_scan_free(result);
    vug_context_free(ctx);
    return rate;
}

static const double coral_holes[14] = {-8.5, -1.5, 0.0, 0.0, 0.0, -1.0, 3.0, 8.5, 2.0, 0.0, 0.0,
    0.0, -1.0, 3.0};

static vug_cavities *coral(vug_context *ctx, int resolution)
{
    char command[128];
    snprintf(command, sizeof command,
        "./examples/tools/vug-coral --resolution %d --out bench_coral.stl", resolution);
    if (system(command) != 0) {
        fprintf(stderr, "bench_pose: the coral program failed\n");
        exit(1);
    }
    vug_cavities *cavities = load(ctx, "bench_coral.stl", coral_holes, 2);
    remove("bench_coral.stl");
    return cavities;
}

/* Each has twice the triangles of the one before. */
static void grow(vug_context *ctx)
{
    enum { SIZES = 4 };
    static const int resolution[SIZES] = {58, 82, 115, 163};
    double time[SIZES];
    for (int i = 0; i < SIZES; i++) {
        vug_cavities *cavities = coral(ctx, resolution[i]);
        time[i] = one_pose(ctx, cavities, 20);
        vug_cavities_free(cavities);
    }
    printf("time grows as the number of triangles to the power %.2f\n",
        log(time[SIZES - 1] / time[0])
            / (2.0 * log((double)resolution[SIZES - 1] / resolution[0])));
}

enum { MOST_HOLES = 64 };

int main(int argc, char **argv)
{
    double holes[7 * MOST_HOLES];
    size_t count = 0;
    vug_context *ctx = NULL;
    if (vug_context_create(NULL, &ctx))
        return 1;
    for (int i = 2; i + 6 < argc && count < MOST_HOLES; i += 7, count++)
        for (int k = 0; k < 7; k++)
            holes[7 * count + (size_t)k] = strtod(argv[i + k], NULL);
    if (argc <= 1)
        grow(ctx);
    vug_cavities *cavities = argc > 1 ? load(ctx, argv[1], holes, count) : coral(ctx, 115);
    one_pose(ctx, cavities, 20);
    columns_of(ctx, cavities, 280, 20);
    double coarse = columns_of(ctx, cavities, 700, 10), fine = columns_of(ctx, cavities, 1400, 5);
    printf("columns grow as resolution to the power %.2f\n", log(fine / coarse) / log(2.0));
    for (int32_t criteria = 0; criteria < 2; criteria++) {
        double one = scan(cavities, 1, 400, criteria), two = scan(cavities, 2, 800, criteria);
        printf("two threads against one: %.2f x\n", two / one);
    }
    vug_cavities_free(cavities);
    vug_context_free(ctx);
    return 0;
}
