/* SPDX-License-Identifier: MIT
 * Gives the grid floor to the Python tests: reads int32 n[3] and the cells from standard input,
 * writes the result to standard output, all in native byte order.
 *   grid_tool distance       cells are bytes; result: uint32 squared distances
 *   grid_tool tree 6|26      cells are uint32; result: rows of uint32 birth, death
 *   grid_tool time threads   cells are bytes; result: seconds of the distance transform, as text */
#include "grid/basin.h"
#include "grid/distance.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static double seconds(void)
{
    struct timespec t;
    timespec_get(&t, TIME_UTC);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void *read_all(size_t count, size_t size)
{
    void *data = malloc(count * size);
    if (!data || fread(data, size, count, stdin) != count)
        exit(2);
    return data;
}

static vug_status distance(vug_context *ctx, const int32_t n[3], size_t count, int timed)
{
    uint8_t *cell = read_all(count, 1);
    uint32_t *squared = malloc(count * sizeof *squared);
    if (!squared)
        exit(2);
    double start = seconds();
    vug_status status = vugi_distance(ctx, n, cell, false, squared);
    if (timed)
        printf("%.6f\n", seconds() - start);
    else
        fwrite(squared, sizeof *squared, count, stdout);
    free(cell);
    free(squared);
    return status;
}

static vug_status tree(vug_context *ctx, const int32_t n[3], size_t count, int connectivity)
{
    uint32_t *value = read_all(count, sizeof *value), *label = malloc(count * sizeof *label);
    vugi_basins basins = {0};
    if (!label)
        exit(2);
    vug_status status = vugi_basins_build(ctx, n, value, connectivity, false, label, &basins);
    vugi_branch *branch = malloc((basins.count + 1) * sizeof *branch);
    if (!branch)
        exit(2);
    if (!status)
        status = vugi_merge_tree(ctx, &basins, branch);
    for (size_t b = 0; b < basins.count; b++) {
        const uint32_t row[2] = {branch[b].birth, branch[b].death};
        fwrite(row, sizeof row, 1, stdout);
    }
    vugi_basins_free(&ctx->mem, &basins);
    free(branch);
    free(label);
    free(value);
    return status;
}

int main(int argc, char **argv)
{
    vug_context_options options;
    vug_context *ctx = NULL;
    int32_t n[3];
    if (argc < 2 || fread(n, sizeof *n, 3, stdin) != 3)
        return 2;
    bool timed = strcmp(argv[1], "time") == 0;
    vug_context_options_init(&options, sizeof options);
    options.threads = timed && argc > 2 ? (uint32_t)atoi(argv[2]) : 2;
    if (vug_context_create(&options, &ctx))
        return 2;
    size_t count = (size_t)n[0] * (size_t)n[1] * (size_t)n[2];
    vug_status status = VUG_ERR_ARGUMENT;
    if (strcmp(argv[1], "distance") == 0 || timed)
        status = distance(ctx, n, count, timed);
    else if (strcmp(argv[1], "tree") == 0 && argc > 2)
        status = tree(ctx, n, count, atoi(argv[2]));
    if (status)
        fprintf(stderr, "grid_tool: %s\n", vug_context_message(ctx));
    vug_context_free(ctx);
    return status ? 1 : 0;
}
