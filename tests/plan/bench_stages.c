/* SPDX-License-Identifier: MIT
 * Benchmark of each stage from file to plan, on the coral in four sizes, one thread and two: seconds of the clock, the most
 * memory in use at a time, the power of the number of triangles with which both grow, and what the second thread
 * gains. What only passes over its data (load, columns, flood) stands beside the time in which this machine copies as
 * many bytes. Usage: bench_stages [-p] (with whole plans too, which take a minute). */
#define _POSIX_C_SOURCE 200809L

#include "../bench.h"
#include "../counted.h"
#include "calls.h"

#include "cavity/cavity.h"
#include "column/columns.h"
#include "column/flood.h"
#include "pose/pose.h"

#include "vug.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>

/* Each has twice the triangles of the one before. */
enum { SIZES = 4, ACROSS = 280, RUNS = 3 };
static const int resolution[SIZES] = {58, 82, 115, 163};
static const double hole[14] = {-8.5, -1.5, 0, 0, 0, -1, 3, 8.5, 2, 0, 0, 0, -1, 3};
static const double up[3] = {0.36, 0.48, -0.8};
/* At 20 C (IAPWS 2008). */
#define WATER_PA_S 1.0016e-3
static const char path[] = "bench_stages.stl";

typedef struct part {
    vug_mesh *mesh;
    vug_cavities *cavities;
    vugi_columns columns;
    double spacing;
} part;

/* ---- the stages; each frees what it makes --------------------------------------------------- */

static vug_status load(vug_context *ctx, const part *p)
{
    vug_mesh *mesh = NULL;
    (void)p;
    vug_status status = vug_mesh_load(ctx, path, NULL, &mesh);
    vug_mesh_free(mesh);
    return status;
}

static vug_status named(vug_context *ctx, const part *p)
{
    return call_find(ctx, p->mesh, hole, 2, 0);
}

static vug_status detected(vug_context *ctx, const part *p)
{
    return call_find(ctx, p->mesh, NULL, 0, 1);
}

static vug_status thickness(vug_context *ctx, const part *p)
{
    return call_thickness(ctx, p->mesh, p->cavities);
}

static vug_status columns(vug_context *ctx, const part *p)
{
    vugi_columns made = {.nx = 0};
    vug_status status = vugi_pose_columns(ctx, &ctx->mem, p->cavities, p->spacing, up, &made);
    vugi_columns_free(&ctx->mem, &made);
    return status;
}

static vug_status flood(vug_context *ctx, const part *p)
{
    const vugi_seed seed = {0, p->columns.hi[0], 0.0};
    vugi_flood made = {.level = NULL};
    vug_status status = vugi_flood_run(ctx, &ctx->mem, &p->columns, false, &seed, 1, &made);
    vugi_flood_free(&ctx->mem, &made);
    return status;
}

static vug_status pockets(vug_context *ctx, const part *p)
{
    vug_pockets *found = NULL;
    vug_status status = vug_pockets_find(ctx, p->cavities, up, NULL, 0, NULL, &found);
    vug_pockets_free(found);
    return status;
}

static vug_status scan(vug_context *ctx, const part *p)
{
    vug_pose_options o;
    vug_pose_options_init(&o, sizeof o);
    o.pose_count = 400;
    o.criteria = 0;
    return call_scan(ctx, p->cavities, &o);
}

static vug_status fill(vug_context *ctx, const part *p)
{
    return call_fill(ctx, p->cavities, up, WATER_PA_S, 0.0, 0);
}

static vug_status fill_in_time(vug_context *ctx, const part *p)
{
    return call_fill(ctx, p->cavities, up, WATER_PA_S, 100.0, 1);
}

static vug_status drain(vug_context *ctx, const part *p)
{
    return call_drain(ctx, p->cavities);
}

static vug_status plan(vug_context *ctx, const part *p)
{
    return call_plan(ctx, p->cavities, VUG_FLUID_THINNED_ACRYLIC);
}

/* ---- bytes that each must touch at the least ------------------------------------------------- */

static double mesh_bytes(const vug_mesh *mesh)
{
    return (double)vug_mesh_vertex_count(mesh) * 3.0 * sizeof(double)
        + (double)vug_mesh_triangle_count(mesh) * 3.0 * sizeof(uint32_t);
}

/* Binary STL: 50 bytes a triangle (Stereolithography Interface Specification, 3D Systems, 1989), and the mesh. */
static double load_bytes(const part *p)
{
    return 50.0 * (double)vug_mesh_triangle_count(p->mesh) + mesh_bytes(p->mesh);
}

static double span_bytes(const part *p)
{
    return (double)p->columns.count * (2.0 * sizeof(double) + sizeof(int32_t));
}

/* The cavities' walls, and the spans. */
static double columns_bytes(const part *p)
{
    double bytes = span_bytes(p);
    for (size_t i = 0; i < p->cavities->cavity_count; i++)
        bytes += mesh_bytes(p->cavities->cavity[i].mesh);
    return bytes;
}

/* The spans, and a level of each. */
static double flood_bytes(const part *p)
{
    return span_bytes(p) + (double)p->columns.count * sizeof(double);
}

typedef struct stage {
    const char *name;
    vug_status (*run)(vug_context *ctx, const part *p);
    double (*bytes)(const part *p);
    bool long_one;
} stage;

static const stage stages[] = {{"load", load, load_bytes, false},
    {"cavities, holes named", named, NULL, false}, {"cavities, holes found", detected, NULL, false},
    {"wall thickness", thickness, NULL, false}, {"columns at 1/280", columns, columns_bytes, false},
    {"flood of them", flood, flood_bytes, false}, {"pockets of a pose", pockets, NULL, false},
    {"scan of 400 poses", scan, NULL, false}, {"fill", fill, NULL, false},
    {"fill in time", fill_in_time, NULL, false}, {"drain in time", drain, NULL, false},
    {"whole plan", plan, NULL, true}};

enum { STAGES = sizeof stages / sizeof *stages };

/* ---- measuring ------------------------------------------------------------------------------- */

typedef struct cost {
    double seconds, bytes;
} cost;

/* The least of some runs: a machine does other things too. */
static cost measure(const stage *s, const part *p, uint32_t threads, int runs)
{
    counted memory;
    cost best = {INFINITY, 0.0};
    vug_context *ctx = counted_context(&memory, threads, 0);
    if (!ctx)
        exit(1);
    const size_t before = atomic_load(&memory.used);
    for (int i = 0; i < runs; i++) {
        double start = bench_now();
        bench_must(ctx, s->run(ctx, p));
        best.seconds = fmin(best.seconds, bench_now() - start);
    }
    best.bytes = (double)(atomic_load(&memory.most) - before);
    vug_context_free(ctx);
    return best;
}

/* Bytes a second that a copy reads and writes, together: of a block that no cache holds. */
static double bandwidth(void)
{
    const size_t size = (size_t)1 << 27;
    unsigned char *from = calloc(size, 1), *to = calloc(size, 1);
    double best = INFINITY;
    if (!from || !to)
        exit(1);
    for (int i = 0; i < 5; i++) {
        from[i] = (unsigned char)i;
        double start = bench_now();
        memcpy(to, from, size);
        best = fmin(best, bench_now() - start);
        if (to[i] != i)
            exit(1);
    }
    free(from);
    free(to);
    return 2.0 * (double)size / best;
}

static part make_part(vug_context *ctx, int size)
{
    char command[128];
    part p = {.mesh = NULL};
    vug_pose_options options;
    vugi_pose_setup setup;
    snprintf(command, sizeof command,
        "./examples/tools/vug-coral --resolution %d --out %s > %s.txt", resolution[size], path,
        path);
    if (system(command) != 0) {
        fprintf(stderr, "bench_stages: the coral program failed\n");
        exit(1);
    }
    remove("bench_stages.stl.txt");
    bench_must(ctx, vug_mesh_load(ctx, path, NULL, &p.mesh));
    bench_must(ctx, vug_cavities_find(ctx, p.mesh, hole, 2, NULL, &p.cavities));
    vug_pose_options_init(&options, sizeof options);
    bench_must(ctx, vugi_pose_setup_read(ctx, p.cavities, NULL, 0, &options, ACROSS, &setup));
    p.spacing = setup.spacing;
    vugi_pose_setup_free(ctx, &setup);
    bench_must(ctx, vugi_pose_columns(ctx, &ctx->mem, p.cavities, p.spacing, up, &p.columns));
    return p;
}

static void free_part(vug_context *ctx, part *p)
{
    vugi_columns_free(&ctx->mem, &p->columns);
    vug_cavities_free(p->cavities);
    vug_mesh_free(p->mesh);
}

/* The power of the number of triangles. */
static double power(double first, double last, const double *triangles)
{
    return log(last / first) / log(triangles[SIZES - 1] / triangles[0]);
}

static void write_row(const stage *s, const cost *one, const cost *two, const double *triangles,
    double least)
{
    const int last = SIZES - 1;
    printf("%-22s", s->name);
    for (int i = 0; i < SIZES; i++)
        printf(" %9.2f", 1e3 * one[i].seconds);
    printf("  ^%5.2f %8.1f  ^%5.2f", power(one[0].seconds, one[last].seconds, triangles),
        one[last].bytes / 1048576.0, power(one[0].bytes, one[last].bytes, triangles));
    printf("  %5.2f x", one[last].seconds / two->seconds);
    if (least > 0.0)
        printf("  %6.1f", one[last].seconds / least);
    printf("\n");
    fflush(stdout);
}

int main(int argc, char **argv)
{
    const bool all = argc > 1 && strcmp(argv[1], "-p") == 0;
    double triangles[SIZES], touched[STAGES] = {0.0}, speed = bandwidth();
    static cost one[STAGES][SIZES], two[STAGES];
    vug_context *ctx = NULL;
    if (vug_context_create(NULL, &ctx))
        return 1;
    for (int i = 0; i < SIZES; i++) {
        part p = make_part(ctx, i);
        triangles[i] = (double)vug_mesh_triangle_count(p.mesh);
        for (size_t k = 0; k < STAGES; k++) {
            const int runs = stages[k].long_one ? 1 : RUNS;
            if (stages[k].long_one && !all)
                continue;
            one[k][i] = measure(stages + k, &p, 1, runs);
            if (i == SIZES - 1)
                two[k] = measure(stages + k, &p, 2, runs);
            if (stages[k].bytes)
                touched[k] = stages[k].bytes(&p);
        }
        free_part(ctx, &p);
    }
    remove(path);
    printf("milliseconds of one thread; MiB at %.0f triangles; two threads against one; times as "
           "long as a copy of what "
           "must be touched (%.1f GB/s, aim 5)\n",
        triangles[SIZES - 1], 1e-9 * speed);
    printf("%-22s", "triangles");
    for (int i = 0; i < SIZES; i++)
        printf(" %9.0f", triangles[i]);
    printf("  power      MiB  power      two    copy\n");
    for (size_t k = 0; k < STAGES; k++)
        if (all || !stages[k].long_one)
            write_row(stages + k, one[k], two + k, triangles, touched[k] / speed);
    vug_context_free(ctx);
    return 0;
}
