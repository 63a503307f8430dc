/* SPDX-License-Identifier: MIT
 * Volume of a closed mesh below a level, exactly: with z counted from the level, the divergence theorem
 * on (0, 0, z) needs no face across the cut. Each face adds its projected area below the level times the
 * mean of z over it (Kromer and Bothe 2022 for the general case). */
#include "gravity/stage.h"

#include "column/pose.h"
#include "mesh/mesh.h"

#include <math.h>

/* Projected area times mean height of the triangle a, b, c of x, y, z. */
static double piece(const double *a, const double *b, const double *c)
{
    double twice = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
    return twice * (a[2] + b[2] + c[2]) / 6.0;
}

static void cut_edge(const double *below, const double *above, double *out)
{
    double t = below[2] / (below[2] - above[2]);
    out[0] = below[0] + t * (above[0] - below[0]);
    out[1] = below[1] + t * (above[1] - below[1]);
    out[2] = 0.0;
}

/* The part of a triangle with z < 0. */
static double clipped(double p[3][3])
{
    int low[3], lows = 0, high[3], highs = 0;
    for (int k = 0; k < 3; k++) {
        if (p[k][2] < 0.0)
            low[lows++] = k;
        else
            high[highs++] = k;
    }
    double u[3], v[3];
    if (lows == 3)
        return piece(p[0], p[1], p[2]);
    if (lows == 0)
        return 0.0;
    if (lows == 1) { /* in the triangle's own order */
        const double *a = p[low[0]], *b = p[(low[0] + 1) % 3], *c = p[(low[0] + 2) % 3];
        cut_edge(a, b, u);
        cut_edge(a, c, v);
        return piece(a, u, v);
    }
    const double *top = p[high[0]], *b = p[(high[0] + 1) % 3], *c = p[(high[0] + 2) % 3];
    cut_edge(b, top, u);
    cut_edge(c, top, v);
    return piece(b, c, v) + piece(b, v, u);
}

typedef struct turned {
    double *xyz; /* z counted from the lowest point */
    const uint32_t *triangles;
    size_t count;
    double height, bottom;
} turned;

static double below(const turned *t, double z)
{
    double sum = 0.0;
    for (size_t i = 0; i < t->count; i++) {
        double p[3][3];
        bool any = false;
        for (int k = 0; k < 3; k++) {
            const double *v = t->xyz + 3 * (size_t)t->triangles[3 * i + (size_t)k];
            p[k][0] = v[0];
            p[k][1] = v[1];
            p[k][2] = v[2] - z;
            any |= p[k][2] < 0.0;
        }
        if (any)
            sum += clipped(p);
    }
    return sum;
}

static vug_status turn(vug_context *ctx, const vug_mesh *mesh, const double *up, turned *t)
{
    double unit[3], basis[9], lo[3] = {INFINITY, INFINITY, INFINITY}, top = -INFINITY;
    vug_status status = vugi_read_up(ctx, up, unit);
    if (status)
        return status;
    *t = (turned){.triangles = mesh->triangles,
        .count = mesh->triangle_count,
        .xyz = vugi_alloc(&ctx->mem, 3 * mesh->vertex_count, sizeof *t->xyz)};
    if (!t->xyz)
        return vugi_fail_memory(ctx);
    vugi_basis(unit, basis);
    for (size_t v = 0; v < mesh->vertex_count; v++) {
        double *p = t->xyz + 3 * v;
        vugi_to_pose(basis, mesh->xyz + 3 * v, p);
        for (int k = 0; k < 3; k++)
            lo[k] = fmin(lo[k], p[k]);
        top = fmax(top, p[2]);
    }
    for (size_t i = 0; i < 3 * mesh->vertex_count; i++)
        t->xyz[i] -= lo[i % 3]; /* small numbers keep the sums exact */
    t->bottom = lo[2];
    t->height = top - lo[2];
    return VUG_OK;
}

vug_status vug_mesh_volume_below(vug_context *ctx, const vug_mesh *mesh, const double *up,
    double level_mm, double *volume_mm3)
{
    turned t;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!mesh || !volume_mm3)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "mesh or volume_mm3 is NULL");
    if (isnan(level_mm))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "level_mm is not a number");
    vug_status status = turn(ctx, mesh, up, &t);
    if (status)
        return status;
    *volume_mm3 = below(&t, fmax(0.0, fmin(t.height * (1.0 + 1e-12), level_mm - t.bottom)));
    vugi_free(&ctx->mem, t.xyz);
    return VUG_OK;
}

/* The level for a volume between those of lo and hi, by false position and halving in turn. */
static double find_level(const turned *t, double volume, double whole)
{
    double lo = 0.0, hi = t->height, flo = -volume, fhi = whole - volume;
    for (int i = 0; i < 200 && hi - lo > 1e-12 * t->height; i++) {
        double mid = 0.5 * (lo + hi);
        if (i % 3 != 2 && fhi > flo)
            mid = fmax(lo + 1e-3 * (hi - lo),
                fmin(hi - 1e-3 * (hi - lo), lo - flo * (hi - lo) / (fhi - flo)));
        double f = below(t, mid) - volume;
        if (f == 0.0)
            return mid;
        if (f < 0.0) {
            lo = mid;
            flo = f;
        } else {
            hi = mid;
            fhi = f;
        }
    }
    return 0.5 * (lo + hi);
}

vug_status vug_mesh_level(vug_context *ctx, const vug_mesh *mesh, const double *up,
    double volume_mm3, double *level_mm)
{
    turned t;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!mesh || !level_mm)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "mesh or level_mm is NULL");
    vug_status status = turn(ctx, mesh, up, &t);
    if (status)
        return status;
    double whole = below(&t, t.height * (1.0 + 1e-12));
    if (!(volume_mm3 >= 0.0 && volume_mm3 <= whole * (1.0 + 1e-12)))
        status = vugi_fail(ctx, VUG_ERR_DOMAIN, "volume_mm3 is %g, the mesh holds %g", volume_mm3,
            whole);
    else
        *level_mm = t.bottom + find_level(&t, volume_mm3, whole);
    vugi_free(&ctx->mem, t.xyz);
    return status;
}
