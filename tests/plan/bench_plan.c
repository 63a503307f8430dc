/* SPDX-License-Identifier: MIT
 * Benchmark of whole plans: time, processor time and memory, in thick and in thin paint.
 * Usage: bench_plan [MESH HOLE...] (holes as 7 numbers with commas); else the coral, with about
 * 250000 triangles. */
#define _POSIX_C_SOURCE 200809L

#include "plan/planning.h"

#include "cavity/cavity.h"

#include "bench.h"

#include "vug.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>

static void plan(vug_context *ctx, const vug_cavities *cavities, int32_t fluid, uint32_t bores)
{
    vug_fluid paint;
    vug_plan_options options;
    vug_plan_info info = {.struct_size = sizeof info};
    vug_plan *made = NULL;
    struct rusage usage;
    vug_fluid_init(&paint, sizeof paint);
    bench_must(ctx, vug_fluid_preset(ctx, fluid, VUG_TYPICAL, 20.0, &paint));
    vug_plan_options_init(&options, sizeof options);
    options.max_bores = bores;
    double start = bench_now(), spent = bench_cpu();
    bench_must(ctx, vug_plan_make(ctx, cavities, &paint, NULL, NULL, 0, &options, &made));
    bench_must(ctx, vug_plan_get(made, 0, &info));
    getrusage(RUSAGE_SELF, &usage);
    printf("  %-16s up to %u bores: %.2f s, %.2f s of processor time, peak so far %.0f MiB; "
           "%u bores, %u turns, %.2f %% air, %zu alternatives\n",
        vug_fluid_preset_name(fluid), (unsigned)bores, bench_now() - start, bench_cpu() - spent,
        (double)usage.ru_maxrss / 1024.0, (unsigned)info.bores, (unsigned)info.steps - 1,
        100.0 * info.trapped_mm3 / info.capacity_mm3, vug_plan_count(made));
    vug_plan_free(made);
}

int main(int argc, char **argv)
{
    vug_context *ctx = NULL;
    vug_mesh *mesh = NULL;
    vug_cavities *cavities = NULL;
    double hole[7 * 16];
    int count = argc > 2 ? argc - 2 : 2;
    const char *path = argc > 1 ? argv[1] : "bench_plan.stl";
    static const double demo[14] = {-8.5, -1.5, 0, 0, 0, -1, 3, 8.5, 2, 0, 0, 0, -1, 3};
    if (count > 16) {
        fprintf(stderr, "bench_plan: at most 16 holes\n");
        return 2;
    }
    for (int i = 0; i < count; i++) {
        double *h = hole + 7 * i;
        const double *d = demo + 7 * (i % 2);
        if (argc <= 2)
            for (int k = 0; k < 7; k++)
                h[k] = d[k];
        else if (sscanf(argv[2 + i], "%lf,%lf,%lf,%lf,%lf,%lf,%lf", h, h + 1, h + 2, h + 3, h + 4,
                     h + 5, h + 6)
            != 7) {
            fprintf(stderr, "bench_plan: %s is not 7 numbers\n", argv[2 + i]);
            return 2;
        }
    }
    if (argc < 2
        && system("./examples/tools/vug-coral --resolution 180 --out bench_plan.stl") != 0) {
        fprintf(stderr, "bench_plan: the coral program failed\n");
        return 1;
    }
    bench_must(ctx, vug_context_create(NULL, &ctx));
    bench_must(ctx, vug_mesh_load(ctx, path, NULL, &mesh));
    bench_must(ctx, vug_cavities_find(ctx, mesh, hole, (size_t)count, NULL, &cavities));
    printf("%s: %zu triangles\n", path, vug_mesh_triangle_count(mesh));
    plan(ctx, cavities, VUG_FLUID_DYED_EPOXY, 0);
    plan(ctx, cavities, VUG_FLUID_DYED_EPOXY, 3);
    plan(ctx, cavities, VUG_FLUID_THINNED_ACRYLIC, 3);
    vug_cavities_free(cavities);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    if (argc < 2)
        remove(path);
    return 0;
}
