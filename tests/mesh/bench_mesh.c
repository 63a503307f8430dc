/* SPDX-License-Identifier: MIT
 * Times STL load and weld of a million triangles, beside admesh doing the same in the same run.
 *
 *     bench_mesh [TRIANGLES]
 *
 * admesh reads the file and matches facets by exact position; what it reports about the mesh it
 * cannot leave out, so its time includes that and ours is given with and without measures. */
#define _POSIX_C_SOURCE 200809L

#include "mesh/mesh.h"

#include "bench.h"

#include "vug.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void put_facet(FILE *file, const float corner[9])
{
    unsigned char row[50] = {0};
    memcpy(row + 12, corner, 36);
    fwrite(row, 1, sizeof row, file);
}

static void torus_point(int i, int j, int n, int m, float p[3])
{
    double u = 6.283185307179586 * (i % n) / n, v = 6.283185307179586 * (j % m) / m;
    p[0] = (float)((20.0 + 5.0 * cos(v)) * cos(u));
    p[1] = (float)((20.0 + 5.0 * cos(v)) * sin(u));
    p[2] = (float)(5.0 * sin(v));
}

/* n x m x 2 triangles of a torus, row by row or in a jumbled order. */
static void write_torus(const char *path, int n, int m, int jumbled)
{
    FILE *file = fopen(path, "wb");
    if (!file)
        exit(1);
    uint32_t count = 2u * (uint32_t)n * (uint32_t)m, step = jumbled ? 7919u : 1u; /* a prime */
    char header[80] = "torus";
    fwrite(header, 1, sizeof header, file);
    fwrite(&count, 4, 1, file); /* little-endian machines */
    for (uint64_t t = 0; t < count; t++) {
        uint32_t at = (uint32_t)(t * step % count), quad = at / 2;
        int i = (int)(quad / (uint32_t)m), j = (int)(quad % (uint32_t)m);
        float c[9];
        torus_point(i, j, n, m, c);
        torus_point(i + 1, at % 2 ? j + 1 : j, n, m, c + 3);
        torus_point(at % 2 ? i : i + 1, j + 1, n, m, c + 6);
        put_facet(file, c);
    }
    fclose(file);
}

typedef struct times {
    double load, measure;
} times;

static times time_once(const char *path)
{
    vug_context *ctx = NULL;
    vug_mesh *mesh = NULL;
    vug_mesh_measures m = {.struct_size = sizeof m};
    times t = {0.0, 0.0};
    if (vug_context_create(NULL, &ctx) != VUG_OK)
        exit(1);
    double start = bench_now();
    if (vug_mesh_load(ctx, path, NULL, &mesh) != VUG_OK) {
        fprintf(stderr, "%s\n", vug_context_message(ctx));
        exit(1);
    }
    t.load = bench_now() - start;
    start = bench_now();
    if (vug_mesh_measure(ctx, mesh, &m) != VUG_OK || !m.closed)
        exit(1);
    t.measure = bench_now() - start;
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    return t;
}

static times best_of(const char *path, int runs)
{
    times best = time_once(path);
    while (--runs > 0) {
        times t = time_once(path);
        best.load = fmin(best.load, t.load);
        best.measure = fmin(best.measure, t.measure);
    }
    return best;
}

static double admesh_best_of(const char *path, int runs)
{
    char command[512];
    double best = INFINITY;
    snprintf(command, sizeof command, "admesh --exact '%s' > /dev/null 2>&1", path);
    while (runs-- > 0) {
        double start = bench_now();
        if (system(command) != 0)
            return -1.0;
        best = fmin(best, bench_now() - start);
    }
    return best;
}

int main(int argc, char **argv)
{
    int triangles = argc > 1 ? atoi(argv[1]) : 1000000;
    int m = (int)sqrt(triangles / 4.0), n = triangles / 2 / m;
    char path[] = "/tmp/vug-bench-XXXXXX";
    int fd = mkstemp(path);
    if (fd < 0)
        return 1;
    close(fd);
    for (int jumbled = 0; jumbled < 2; jumbled++) {
        write_torus(path, n, m, jumbled);
        times t = best_of(path, 5);
        printf("STL load and weld, %d triangles %s: %.3f s (target 0.4), measures %.3f s\n",
            2 * n * m, jumbled ? "jumbled" : "in order", t.load, t.measure);
        double other = admesh_best_of(path, 2);
        if (other < 0.0)
            printf("  admesh is not there or failed: no comparison\n");
        else
            printf("  admesh --exact: %.3f s, ratio %.1f (target 5), with measures %.1f\n", other,
                other / t.load, other / (t.load + t.measure));
    }
    unlink(path);
    return 0;
}
