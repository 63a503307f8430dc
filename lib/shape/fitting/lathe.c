/* SPDX-License-Identifier: MIT */
#include "shape/fitting/lathe.h"

#include "base/angle.h"

#include <math.h>
#include <string.h>

static void put(uint32_t **row, uint32_t a, uint32_t b, uint32_t c)
{
    const uint32_t corner[3] = {a, b, c};
    memcpy(*row, corner, sizeof corner);
    *row += 3;
}

vug_status vugi_lathe(vug_context *ctx, const vugi_tool *frame, const double *rings, size_t count,
    uint32_t sides, vug_mesh **out)
{
    size_t triangles = 2 * sides * (count - 1) + 2 * (sides - 2);
    double *xyz = vugi_alloc(&ctx->mem, count * sides, 3 * sizeof *xyz);
    uint32_t *row = vugi_alloc(&ctx->mem, triangles, 3 * sizeof *row), *next = row;
    if (!xyz || !row) {
        vugi_free(&ctx->mem, xyz);
        vugi_free(&ctx->mem, row);
        return vugi_fail_memory(ctx);
    }
    double share = vugi_tool_corner_radius(2.0, sides);
    for (size_t i = 0; i < count * sides; i++) {
        double angle = 2.0 * VUGI_PI * (double)(i % sides) / sides;
        double r = share * rings[2 * (i / sides)];
        const double x[3] = {r * cos(angle), r * sin(angle), rings[2 * (i / sides) + 1]};
        vugi_tool_part(frame, x, xyz + 3 * i);
    }
    uint32_t last = (uint32_t)(count - 1) * sides;
    for (uint32_t a = 0; a < last; a += sides)
        for (uint32_t j = 0, k; j < sides; j++) {
            k = (j + 1) % sides;
            put(&next, a + j, a + k, a + sides + k);
            put(&next, a + j, a + sides + k, a + sides + j);
        }
    for (uint32_t j = 1; j + 1 < sides; j++) {
        put(&next, 0, j + 1, j);
        put(&next, last, last + j, last + j + 1);
    }
    *out = vugi_mesh_adopt(&ctx->mem, xyz, count * sides, row, triangles);
    return *out ? VUG_OK : vugi_fail_memory(ctx);
}
