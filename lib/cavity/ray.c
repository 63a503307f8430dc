/* SPDX-License-Identifier: MIT
 * Ray against mesh, brute force: asked a few dozen times for a part. */
#include "cavity/ray.h"

#include "base/vec.h"

#include <assert.h>
#include <math.h>

/* Moeller and Trumbore, J. Graphics Tools 2(1), 1997. */
double vugi_triangle_hit(const vug_mesh *mesh, uint32_t t, const double o[3], const double d[3],
    bool *out)
{
    assert(t < mesh->triangle_count);
    const uint32_t *v = mesh->triangles + 3 * (size_t)t;
    const double *a = mesh->xyz + 3 * (size_t)v[0];
    const double *b = mesh->xyz + 3 * (size_t)v[1], *c = mesh->xyz + 3 * (size_t)v[2];
    double e1[3], e2[3], s[3];
    for (int k = 0; k < 3; k++) {
        e1[k] = b[k] - a[k];
        e2[k] = c[k] - a[k];
        s[k] = o[k] - a[k];
    }
    double p[3];
    vugi_cross(d, e2, p);
    double det = vugi_dot(e1, p);
    if (det == 0.0)
        return INFINITY;
    double u = vugi_dot(s, p) / det;
    double q[3];
    vugi_cross(s, e1, q);
    double w = vugi_dot(d, q) / det;
    if (!(u >= 0.0) || !(w >= 0.0) || !(u + w <= 1.0))
        return INFINITY;
    *out = det < 0.0;
    return vugi_dot(e2, q) / det;
}

double vugi_ray_hit(const vug_mesh *mesh, const double origin[3], const double direction[3],
    double from, uint32_t *triangle)
{
    double nearest = INFINITY;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        bool out;
        double s = vugi_triangle_hit(mesh, (uint32_t)t, origin, direction, &out);
        if (s > from && s < nearest) {
            nearest = s;
            if (triangle)
                *triangle = (uint32_t)t;
        }
    }
    return nearest;
}

vug_status vugi_triangles_along(vug_context *ctx, const vug_mesh *mesh, const vugi_plane *across,
    double radius, uint32_t **list, size_t *count)
{
    size_t capacity = 0;
    *list = NULL;
    *count = 0;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        double lo[2] = {INFINITY, INFINITY}, hi[2] = {-INFINITY, -INFINITY};
        for (size_t k = 0; k < 3; k++) {
            double uv[2];
            vugi_in_plane(across, mesh->xyz + 3 * (size_t)mesh->triangles[3 * t + k], uv);
            for (int i = 0; i < 2; i++) {
                lo[i] = fmin(lo[i], uv[i]);
                hi[i] = fmax(hi[i], uv[i]);
            }
        }
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
        double s = vugi_triangle_hit(mesh, list[i], origin, direction, &leaves);
        if (s <= from || s >= nearest)
            continue;
        nearest = s;
        if (out)
            *out = leaves;
    }
    return nearest;
}
