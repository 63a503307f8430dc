/* SPDX-License-Identifier: MIT
 * A program that carries the library inside: its own memory, its own arrays, and a user who stops a job.
 * Each thread of a host takes a context of its own. */
#include <stdio.h>
#include <stdlib.h>
#include <vug.h>

static void *host_alloc(void *user, size_t size)
{
    void *block = malloc(size);
    *(size_t *)user += block != NULL; /* one thread: a plain counter will do */
    return block;
}

static void *host_realloc(void *user, void *block, size_t size)
{
    return block ? realloc(block, size) : host_alloc(user, size);
}

static void host_free(void *user, void *block)
{
    --*(size_t *)user;
    free(block);
}

/* The user watches the bar and presses Stop: anything but 0 ends the call. */
static int32_t host_progress(void *user, double fraction, const char *stage)
{
    (void)stage;
    return fraction >= *(const double *)user;
}

int main(void)
{
    static const double corner[8][3] = {{0, 0, 0}, {30, 0, 0}, {0, 30, 0}, {0, 0, 30}, {5, 5, 5},
        {15, 5, 5}, {5, 15, 5}, {5, 5, 15}}; /* a hollow tetrahedron */
    static const uint32_t face[8][3] = {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {0, 3, 2}, {4, 5, 6},
        {4, 7, 5}, {5, 7, 6}, {4, 6, 7}};
    size_t blocks = 0;
    double stop_at = 2.0; /* never */
    vug_context *ctx = NULL;
    vug_mesh *part = NULL;
    vug_cavities *inside = NULL;
    vug_context_options host = {sizeof host, 1, host_alloc, host_realloc, host_free, &blocks,
        host_progress, &stop_at, 0};
    vug_status status = vug_context_create(&host, &ctx);
    if (!status)
        status = vug_mesh_from_arrays(ctx, corner[0], 8, 0, face[0], 8, 0, &part);
    if (!status)
        status = vug_cavities_find(ctx, part, NULL, 0, NULL, &inside);
    printf("%s, cavities: %zu\n", vug_status_name(status), vug_cavities_count(inside));
    vug_cavities_free(inside);
    stop_at = 0.0;
    status = vug_cavities_find(ctx, part, NULL, 0, NULL, &inside);
    printf("%s: %s\n", vug_status_name(status), vug_context_message(ctx));
    vug_mesh_free(part);
    vug_context_free(ctx);
    printf("%zu blocks left\n", blocks);
    return blocks ? EXIT_FAILURE : EXIT_SUCCESS;
}
