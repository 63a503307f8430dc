/* SPDX-License-Identifier: MIT
 * Ear clipping. O(n^2), for outlines of some hundred points. */
#include "cavity/triangulate.h"

#include <assert.h>
#include <string.h>

static double turn(const double *uv, uint32_t a, uint32_t b, uint32_t c)
{
    return (uv[2 * b] - uv[2 * a]) * (uv[2 * c + 1] - uv[2 * a + 1])
        - (uv[2 * b + 1] - uv[2 * a + 1]) * (uv[2 * c] - uv[2 * a]);
}

static bool same(const double *uv, uint32_t a, uint32_t b)
{
    return uv[2 * a] == uv[2 * b] && uv[2 * a + 1] == uv[2 * b + 1];
}

/* Is corner at of the remaining ring an ear: convex, and no other corner inside it? */
static bool is_ear(const double *uv, const uint32_t *ring, size_t count, size_t at, bool flat_too)
{
    assert(at < count);
    uint32_t a = ring[(at + count - 1) % count], b = ring[at], c = ring[(at + 1) % count];
    double area = turn(uv, a, b, c);
    if (area < 0.0 || (area == 0.0 && !flat_too))
        return false;
    for (size_t i = 0; i < count; i++) {
        uint32_t p = ring[i];
        if (p == a || p == b || p == c || same(uv, p, a) || same(uv, p, b) || same(uv, p, c))
            continue;
        if (turn(uv, a, b, p) >= 0.0 && turn(uv, b, c, p) >= 0.0 && turn(uv, c, a, p) >= 0.0
            && area > 0.0)
            return false;
    }
    return true;
}

/* Next ear after `from`, or count if there is none. */
static size_t find_ear(const double *uv, const uint32_t *ring, size_t count, size_t from)
{
    for (int flat_too = 0; flat_too < 2; flat_too++)
        for (size_t i = 0; i < count; i++)
            if (is_ear(uv, ring, count, (from + i) % count, flat_too))
                return (from + i) % count;
    return count;
}

vug_status vugi_triangulate(vug_context *ctx, const double *uv, size_t count, uint32_t *triangles)
{
    assert(count >= 3);
    uint32_t *ring = vugi_alloc(&ctx->mem, count, sizeof *ring);
    if (!ring)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < count; i++)
        ring[i] = (uint32_t)i;
    size_t left = count, at = 0;
    while (left > 3) {
        at = find_ear(uv, ring, left, at);
        if (at == left)
            break;
        *triangles++ = ring[(at + left - 1) % left];
        *triangles++ = ring[at];
        *triangles++ = ring[(at + 1) % left];
        memmove(ring + at, ring + at + 1, (left - at - 1) * sizeof *ring);
        left--;
        at = (at + 1) % left; /* skip one: rounder triangles than a fan */
    }
    if (left == 3)
        memcpy(triangles, ring, 3 * sizeof *ring);
    vugi_free(&ctx->mem, ring);
    if (left != 3)
        return vugi_fail(ctx, VUG_ERR_MESH, "the outline of an opening (%zu points) crosses itself",
            count);
    return VUG_OK;
}
