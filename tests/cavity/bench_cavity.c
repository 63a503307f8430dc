/* SPDX-License-Identifier: MIT
 * Times the search for cavities in a figure of about 250,000 triangles at growing grids, with the
 * most memory held at once, the growth with the resolution, and the time for the wall's thickness.
 *
 *     bench_cavity [RESOLUTION]
 */
#define _POSIX_C_SOURCE 200809L

#include "cavity/cavity.h"
#include "cavity/thickness.h"

#include "bench.h"
#include "counted.h"
#include "parts.h"
#include "test.h"

#include <stdio.h>

static counted memory;

typedef struct cost {
    double wall, cpu;
    size_t bytes;
} cost;

/* The least of three runs: the machine does other things too. */
static cost time_find(vug_context *ctx, const vug_mesh *mesh, uint32_t cells)
{
    cost best = {INFINITY, INFINITY, 0};
    for (int run = 0; run < 3; run++) {
        vug_cavity_options options;
        vug_cavities *cavities = NULL;
        vug_cavity_options_init(&options, sizeof options);
        options.cells_across = cells;
        size_t before = atomic_load(&memory.used);
        counted_begin(&memory);
        double wall = bench_now(), cpu = bench_cpu();
        if (vug_cavities_find(ctx, mesh, NULL, 0, &options, &cavities)) {
            fprintf(stderr, "bench_cavity: %s\n", vug_context_message(ctx));
            exit(1);
        }
        best.wall = fmin(best.wall, bench_now() - wall);
        best.cpu = fmin(best.cpu, bench_cpu() - cpu);
        best.bytes = atomic_load(&memory.most) - before;
        if (run == 0)
            printf("%5u cells: %zu cavities, %zu openings", (unsigned)cells,
                vug_cavities_count(cavities), vug_cavities_opening_count(cavities));
        vug_cavities_free(cavities);
    }
    return best;
}

static void time_thickness(vug_context *ctx, const vug_mesh *mesh)
{
    vug_thickness *thickness = NULL;
    double wall = bench_now(), cpu = bench_cpu();
    vug_thickness_info info = {.struct_size = sizeof info};
    if (vug_thickness_measure(ctx, mesh, NULL, 0.0, &thickness)
        || vug_thickness_get(thickness, &info))
        exit(1);
    printf("wall thickness at %llu points: %.3f s (%.3f s of processor time)\n",
        (unsigned long long)info.samples, bench_now() - wall, bench_cpu() - cpu);
    vug_thickness_free(thickness);
}

static int resolution = 3;

/* A test, because the parts fail as tests do. */
START_TEST(bench)
{
    static const uint32_t cells[] = {64, 128, 256};
    enum { GRIDS = sizeof cells / sizeof *cells };
    vug_context *ctx = counted_context(&memory, 0, 0);
    cost found[GRIDS];
    int index = 0;
    ck_assert_ptr_nonnull(ctx);
    while (index + 1 < part_count() && strcmp(part_name(index), "organic with four bores") != 0)
        index++;
    part figure = part_make(ctx, index, resolution);
    printf("a figure of %zu triangles; seconds by the clock, and of processor time\n",
        vug_mesh_triangle_count(figure.mesh));
    for (size_t i = 0; i < GRIDS; i++) {
        found[i] = time_find(ctx, figure.mesh, cells[i]);
        printf(", %.3f s (%.3f s), %.0f MiB\n", found[i].wall, found[i].cpu,
            (double)found[i].bytes / 1048576.0);
    }
    const cost *first = found, *last = found + GRIDS - 1;
    double grown = log((double)cells[GRIDS - 1] / cells[0]);
    printf("growth with the cells across: time ^ %.2f, memory ^ %.2f (target at 256: 2 s, 500 "
           "MiB)\n",
        log(last->cpu / first->cpu) / grown,
        log((double)last->bytes / (double)first->bytes) / grown);
    time_thickness(ctx, figure.mesh);
    vug_mesh_free(figure.mesh);
    vug_context_free(ctx);
}
END_TEST

int main(int argc, char **argv)
{
    Suite *suite = suite_create("bench");
    TCase *tc = tcase_create("cavity");
    if (argc > 1)
        resolution = atoi(argv[1]);
    tcase_add_test(tc, bench);
    suite_add_tcase(suite, tc);
    return test_run_here(suite);
}
