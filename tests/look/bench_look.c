/* SPDX-License-Identifier: MIT
 * Times the part against the light: 1000 x 1000 pixels of a figure of about 250,000 triangles, empty, full, and
 * at a moment of a fill.
 *
 *     bench_look [RESOLUTION]
 */
#define _POSIX_C_SOURCE 200809L

#include "bench.h"
#include "parts.h"
#include "test.h"

#include <stdio.h>

enum { SIDE = 1000, RUNS = 5 };

static int resolution = 3;
static uint8_t rgba[SIDE][SIDE][4];

/* The least of some runs: the machine does other things too. */
static void time_picture(vug_context *ctx, const vug_mesh *mesh, const vug_cavities *cavities,
    const vug_moment *moment, bool filled, const char *what)
{
    vug_backlit look;
    double best = INFINITY, work = INFINITY;
    vug_backlit_init(&look, sizeof look);
    look.filled = filled;
    for (int run = 0; run < RUNS; run++) {
        double start = bench_now(), cpu = bench_cpu();
        ck_ok(ctx,
            vug_backlit_render(ctx, mesh, cavities, moment, &look, SIDE, SIDE, &rgba[0][0][0], 0));
        best = fmin(best, bench_now() - start);
        work = fmin(work, bench_cpu() - cpu);
    }
    printf("    %-10s %5.0f ms, %5.0f ms of processor time\n", what, 1e3 * best, 1e3 * work);
}

/* A test, because the parts fail as tests do. */
START_TEST(bench)
{
    vug_context *ctx = test_context();
    vug_cavities *cavities = NULL;
    vug_course *course = NULL;
    vug_moment *half = NULL;
    vug_fill_options options;
    vug_course_info info = {.struct_size = sizeof info};
    const double up[3] = {0.3, 0.2, 1.0};
    int index = 0;
    while (index + 1 < part_count() && strcmp(part_name(index), "organic with four bores") != 0)
        index++;
    part figure = part_make(ctx, index, resolution);
    ck_ok(ctx, vug_cavities_find(ctx, figure.mesh, NULL, 0, NULL, &cavities));
    size_t count = vug_cavities_opening_count(cavities);
    int32_t *role = calloc(count + 1, sizeof *role);
    role[0] = VUG_ROLE_INLET;
    vug_fill_options_init(&options, sizeof options);
    ck_ok(ctx, vug_fill_run(ctx, cavities, NULL, up, role, count, &options, &course));
    ck_ok(ctx, vug_course_get(course, &info));
    ck_ok(ctx, vug_course_at_volume(ctx, course, 0.5 * info.liquid_mm3, &half));
    printf("against the light, %d x %d pixels, %zu triangles (target on two cores: 150 ms)\n", SIDE,
        SIDE, vug_mesh_triangle_count(figure.mesh));
    time_picture(ctx, figure.mesh, NULL, NULL, false, "empty");
    time_picture(ctx, figure.mesh, cavities, half, false, "half full");
    time_picture(ctx, figure.mesh, cavities, NULL, true, "full");
    free(role);
    vug_moment_free(half);
    vug_course_free(course);
    vug_cavities_free(cavities);
    vug_mesh_free(figure.mesh);
    vug_context_free(ctx);
}
END_TEST

int main(int argc, char **argv)
{
    Suite *suite = suite_create("bench");
    TCase *tc = tcase_create("look");
    if (argc > 1)
        resolution = atoi(argv[1]);
    tcase_add_test(tc, bench);
    suite_add_tcase(suite, tc);
    return test_run_here(suite);
}
