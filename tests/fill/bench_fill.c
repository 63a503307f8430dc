/* SPDX-License-Identifier: MIT
 * Times fills and drains of one part with its base up: without hurry, in time, drained.
 *
 *     bench_fill PART.stl HOLE...     each hole: x,y,z,dx,dy,dz,d
 *
 * Without arguments it does nothing: bench_fill.py makes the part and runs it.
 */
#define _POSIX_C_SOURCE 200809L

#include "cavity/cavity.h"
#include "course/course_types.h"

#include "bench.h"

#include "vug.h"

#include <math.h>
#include <stdio.h>

enum { RUNS = 5, HOLES = 8 };

static vug_status once(vug_context *ctx, const vug_cavities *c, int kind, uint32_t columns,
    vug_course **course)
{
    const double up[3] = {0, 0, -1};
    vug_fill_options fill;
    vug_drain_options drain;
    vug_fluid paint;
    vug_fluid_init(&paint, sizeof paint);
    paint.density_kg_m3 = 1200.0;
    paint.consistency_pa_sn = 1.0;
    vug_fill_options_init(&fill, sizeof fill);
    vug_drain_options_init(&drain, sizeof drain);
    fill.columns_across = drain.columns_across = columns;
    fill.viscous = kind == 1;
    fill.rate_mm3_s = 50.0;
    return kind < 2 ? vug_fill_run(ctx, c, &paint, up, NULL, 0, &fill, course)
                    : vug_drain_run(ctx, c, NULL, up, NULL, 0, &drain, course);
}

/* The least of some runs, processor time: the machine does other things too. */
static double time_it(vug_context *ctx, const vug_cavities *c, int kind, uint32_t columns)
{
    double best = INFINITY;
    for (int run = 0; run < RUNS; run++) {
        vug_course *course = NULL;
        double start = bench_cpu();
        if (once(ctx, c, kind, columns, &course)) {
            fprintf(stderr, "bench_fill: %s\n", vug_context_message(ctx));
            return NAN;
        }
        best = fmin(best, bench_cpu() - start);
        vug_course_free(course);
    }
    return best;
}

int main(int argc, char **argv)
{
    static const char *const name[3] = {"fill without hurry", "fill in time", "drain"};
    static const double limit[3] = {0.15, 0.1, 0.0};
    static const uint32_t columns[3] = {250, 500, 1000};
    vug_context_options options;
    vug_context *ctx = NULL;
    vug_mesh *mesh = NULL;
    vug_cavities *cavities = NULL;
    double hole[7 * HOLES];
    size_t holes = 0;
    if (argc < 2)
        return 0;
    for (int i = 2; i < argc && holes < HOLES; i++, holes++) {
        double *h = hole + 7 * holes;
        if (sscanf(argv[i], "%lf,%lf,%lf,%lf,%lf,%lf,%lf", h, h + 1, h + 2, h + 3, h + 4, h + 5,
                h + 6)
            != 7)
            return 2;
    }
    vug_context_options_init(&options, sizeof options);
    options.threads = 1;
    if (vug_context_create(&options, &ctx) || vug_mesh_load(ctx, argv[1], NULL, &mesh)
        || vug_cavities_find(ctx, mesh, hole, holes, NULL, &cavities)) {
        fprintf(stderr, "bench_fill: %s\n", vug_context_message(ctx));
        return 2;
    }
    printf("%zu triangles, one thread\n", vug_mesh_triangle_count(mesh));
    for (int kind = 0; kind < 3; kind++) {
        double cost[3];
        for (int i = 0; i < 3; i++)
            cost[i] = time_it(ctx, cavities, kind, columns[i]);
        printf("%-20s 1/250 %7.1f ms, 1/500 %7.1f ms, 1/1000 %7.1f ms; grows with the power %.2f",
            name[kind], 1e3 * cost[0], 1e3 * cost[1], 1e3 * cost[2], log2(cost[2] / cost[1]));
        if (limit[kind] > 0.0)
            printf("; at 1/500 at most %.0f ms: %s", 1e3 * limit[kind],
                cost[1] <= limit[kind] ? "met" : "MISSED");
        putchar('\n');
    }
    vug_cavities_free(cavities);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    return 0;
}
