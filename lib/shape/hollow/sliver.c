/* SPDX-License-Identifier: MIT */
#include "shape/hollow/sliver.h"

#include "base/vec.h"

#include "mesh/edges.h"

#include <math.h>
#include <string.h>

enum { PASSES = 12 };

/* Cosine of the angle that a turned triangle may be off its neighbour's plane. */
static const double FLAT = 0.9;

static double height(const vug_mesh *mesh, const uint32_t row[3], double normal[3], uint32_t *edge)
{
    const double *p[3];
    double longest = 0.0;
    for (uint32_t k = 0; k < 3; k++)
        p[k] = mesh->xyz + 3 * (size_t)row[k];
    for (uint32_t k = 0; k < 3; k++) {
        double d = vugi_point_distance(p[k], p[(k + 1) % 3]);
        if (d > longest) {
            longest = d;
            *edge = k;
        }
    }
    vugi_triangle_cross(p[0], p[1], p[2], normal);
    return longest > 0.0 ? vugi_length(normal) / longest : 0.0;
}

/* Triangles a, c, b and, across ac, c, a, d become a, d, b and d, c, b. */
static bool turn(vug_mesh *mesh, size_t t, size_t u, uint32_t edge, double low)
{
    uint32_t *p = mesh->triangles + 3 * t, *q = mesh->triangles + 3 * u;
    uint32_t a = p[edge], c = p[(edge + 1) % 3], b = p[(edge + 2) % 3], d = b, k;
    for (int i = 0; i < 3; i++)
        if (q[i] == c && q[(i + 1) % 3] == a)
            d = q[(i + 2) % 3];
    if (d == b)
        return false;
    const uint32_t first[3] = {a, d, b}, second[3] = {d, c, b};
    double m[3], n[3], o[3];
    double least = fmin(height(mesh, first, m, &k), height(mesh, second, n, &k));
    double beside = height(mesh, q, o, &k);
    if (least <= low || beside <= low || vugi_dot(m, o) < FLAT * vugi_length(m) * vugi_length(o)
        || vugi_dot(n, o) < FLAT * vugi_length(n) * vugi_length(o))
        return false;
    memcpy(p, first, sizeof first);
    memcpy(q, second, sizeof second);
    return true;
}

/* Each triangle takes part in one turn at most; and so do its neighbours, whose edges it changes. */
static size_t pass(vug_mesh *mesh, size_t count, double least, const uint32_t *other,
    uint8_t *touched)
{
    size_t turned = 0;
    memset(touched, 0, mesh->triangle_count);
    for (size_t t = 0; t < count; t++) {
        double normal[3];
        uint32_t edge = 0;
        double low = height(mesh, mesh->triangles + 3 * t, normal, &edge);
        if (low >= least)
            continue;
        size_t u = other[3 * t + edge];
        if (u >= count || touched[t] || touched[u] || !turn(mesh, t, u, edge, low))
            continue;
        turned++;
        touched[t] = touched[u] = 1;
        for (size_t k = 0; k < 3; k++) {
            if (other[3 * t + k] < mesh->triangle_count)
                touched[other[3 * t + k]] = 1;
            if (other[3 * u + k] < mesh->triangle_count)
                touched[other[3 * u + k]] = 1;
        }
    }
    return turned;
}

vug_status vugi_sliver_turn(vug_context *ctx, vug_mesh *mesh, size_t count, double least)
{
    uint32_t *other = vugi_alloc(&ctx->mem, mesh->triangle_count, 3 * sizeof *other);
    uint8_t *touched = vugi_alloc(&ctx->mem, mesh->triangle_count, 1);
    vug_status status = other && touched ? VUG_OK : vugi_fail_memory(ctx);
    for (int i = 0; i < PASSES && !status; i++) {
        status = vugi_mesh_neighbours(ctx, mesh, other);
        if (!status && pass(mesh, count, least, other, touched) == 0)
            break;
    }
    vugi_free(&ctx->mem, other);
    vugi_free(&ctx->mem, touched);
    return status;
}
