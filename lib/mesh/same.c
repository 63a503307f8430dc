/* SPDX-License-Identifier: MIT
 * Triangles that are there more than once, by a table of their corners. */
#include "mesh/same.h"

#include <string.h>

enum { BLOCK = 16384, SOME = 64 };

void vugi_corners_sorted(const uint32_t *triangle, uint32_t sorted[3])
{
    memcpy(sorted, triangle, 3 * sizeof *sorted);
    for (int i = 0; i < 2; i++) {
        for (int k = 0; k < 2 - i; k++) {
            if (sorted[k] <= sorted[k + 1])
                continue;
            uint32_t swap = sorted[k];
            sorted[k] = sorted[k + 1];
            sorted[k + 1] = swap;
        }
    }
}

/* Even turns of the same corners are the same triangle; odd ones are turned over. */
bool vugi_same_turn(const uint32_t *a, const uint32_t *b)
{
    for (int k = 0; k < 3; k++)
        if (a[0] == b[k])
            return a[1] == b[(k + 1) % 3];
    return false;
}

size_t vugi_corners_slot(const uint32_t sorted[3], size_t mask)
{
    uint64_t h = sorted[0] * UINT64_C(0x9E3779B97F4A7C15);
    h = ((h ^ (h >> 32)) + sorted[1]) * UINT64_C(0xC2B2AE3D27D4EB4F);
    h = ((h ^ (h >> 29)) + sorted[2]) * UINT64_C(0x165667B19E3779F9);
    return (size_t)(h ^ (h >> 32)) & mask;
}

size_t vugi_corners_places(size_t triangles)
{
    size_t places = 16;
    while (places < 2 * triangles)
        places *= 2;
    return places;
}

/* The first triangle like t, from the table, which gets each kind once. mine: its corners, sorted, at their slot. */
static uint32_t look_up(const vug_mesh *mesh, uint32_t t, const uint32_t mine[3], size_t at,
    uint32_t *table, size_t mask)
{
    uint32_t theirs[3];
    for (; table[at] != UINT32_MAX; at = (at + 1) & mask) {
        const uint32_t *other = mesh->triangles + 3 * (size_t)table[at];
        vugi_corners_sorted(other, theirs);
        if (memcmp(mine, theirs, sizeof theirs) == 0
            && vugi_same_turn(mesh->triangles + 3 * (size_t)t, other))
            return table[at];
    }
    table[at] = t;
    return t;
}

/* Triangles from .. from + count - 1: all slots are fetched ahead of use, which hides most of the memory's latency. */
static void look_up_some(const vug_mesh *mesh, uint32_t from, uint32_t count, uint32_t *table,
    size_t mask, uint32_t *first)
{
    uint32_t corners[SOME][3];
    size_t slot[SOME];
    for (uint32_t i = 0; i < count; i++) {
        vugi_corners_sorted(mesh->triangles + 3 * (size_t)(from + i), corners[i]);
        slot[i] = vugi_corners_slot(corners[i], mask);
        VUGI_PREFETCH(table + slot[i]);
    }
    for (uint32_t i = 0; i < count; i++)
        first[from + i] = look_up(mesh, from + i, corners[i], slot[i], table, mask);
}

vug_status vugi_mesh_first_of_like(vug_context *ctx, const vug_mesh *mesh, uint32_t *first)
{
    size_t places = vugi_corners_places(mesh->triangle_count);
    uint32_t *table = vugi_alloc(&ctx->mem, places, sizeof *table);
    if (!table)
        return vugi_fail_memory(ctx);
    memset(table, 0xff, places * sizeof *table);
    vug_status status = VUG_OK;
    for (size_t t = 0; t < mesh->triangle_count && !status; t += SOME) {
        const size_t left = mesh->triangle_count - t;
        look_up_some(mesh, (uint32_t)t, (uint32_t)(left < SOME ? left : SOME), table, places - 1,
            first);
        if (t % BLOCK == 0)
            status = vugi_step(ctx, 0.0);
    }
    vugi_free(&ctx->mem, table);
    return status;
}

vug_status vugi_mesh_weights(vug_context *ctx, const vug_mesh *mesh, uint32_t **weight)
{
    size_t again = 0, count = mesh->triangle_count;
    uint32_t *own = vugi_alloc(&ctx->mem, count, sizeof *own);
    vug_status status = own ? vugi_mesh_first_of_like(ctx, mesh, own) : vugi_fail_memory(ctx);
    /* The first of its like comes before the others: its place holds its own number till then. */
    for (size_t t = 0; t < count && !status; t++) {
        uint32_t first = own[t];
        own[t] = first == t;
        own[first] += first != t;
        again += first != t;
    }
    *weight = NULL;
    if (!status && again > 0)
        *weight = own;
    else
        vugi_free(&ctx->mem, own);
    return status;
}
