/* SPDX-License-Identifier: MIT
 * Ray against mesh, brute force: asked a few dozen times for a part. */
#include "cavity/ray.h"

#include "mesh/hit.h"

#include <assert.h>
#include <math.h>

double vugi_ray_hit(const vug_mesh *mesh, const double origin[3], const double direction[3],
    double from, uint32_t *triangle)
{
    double nearest = INFINITY;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        bool out;
        double s = vugi_mesh_hit(mesh, (uint32_t)t, origin, direction, &out);
        if (s > from && s < nearest) {
            nearest = s;
            if (triangle)
                *triangle = (uint32_t)t;
        }
    }
    return nearest;
}

void vugi_triangle_along(const vug_mesh *mesh, uint32_t t, const vugi_plane *across, double lo[2],
    double hi[2])
{
    lo[0] = lo[1] = INFINITY;
    hi[0] = hi[1] = -INFINITY;
    for (size_t k = 0; k < 3; k++) {
        double uv[2];
        vugi_in_plane(across, mesh->xyz + 3 * (size_t)mesh->triangles[3 * (size_t)t + k], uv);
        for (int i = 0; i < 2; i++) {
            lo[i] = vugi_lesser(lo[i], uv[i]);
            hi[i] = vugi_greater(hi[i], uv[i]);
        }
    }
}

vug_status vugi_triangles_along(vug_context *ctx, const vug_mesh *mesh, const vugi_plane *across,
    double radius, uint32_t **list, size_t *count)
{
    size_t capacity = 0;
    *list = NULL;
    *count = 0;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        double lo[2], hi[2];
        vugi_triangle_along(mesh, (uint32_t)t, across, lo, hi);
        if (lo[0] > radius || hi[0] < -radius || lo[1] > radius || hi[1] < -radius)
            continue;
        if (!vugi_reserve(&ctx->mem, list, &capacity, *count + 1, sizeof **list)) {
            vugi_free(&ctx->mem, *list);
            *list = NULL;
            return vugi_fail_memory(ctx);
        }
        (*list)[(*count)++] = (uint32_t)t;
    }
    return VUG_OK;
}

double vugi_ray_hit_of(const vug_mesh *mesh, const uint32_t *list, size_t count,
    const double origin[3], const double direction[3], double from, bool *out)
{
    double nearest = INFINITY;
    for (size_t i = 0; i < count; i++) {
        bool leaves = false;
        double s = vugi_mesh_hit(mesh, list[i], origin, direction, &leaves);
        if (s <= from || s >= nearest)
            continue;
        nearest = s;
        if (out)
            *out = leaves;
    }
    return nearest;
}
