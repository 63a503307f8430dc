/* SPDX-License-Identifier: MIT */
#include "mesh/gather.h"

#include "base/format.h"

#include <math.h>

enum { MAX_PIECES = 1000000 }; /* components within components can multiply without end */

vugi_place3 vugi_place3_scale(double factor)
{
    vugi_place3 place = {{{factor, 0, 0, 0}, {0, factor, 0, 0}, {0, 0, factor, 0}}};
    return place;
}

vugi_place3 vugi_place3_join(const vugi_place3 *outer, const vugi_place3 *inner)
{
    vugi_place3 both;
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 4; j++) {
            both.m[i][j] = j == 3 ? outer->m[i][3] : 0.0;
            for (int k = 0; k < 3; k++)
                both.m[i][j] += outer->m[i][k] * inner->m[k][j];
        }
    }
    return both;
}

static double determinant(const vugi_place3 *p)
{
    const double(*m)[4] = p->m;
    return m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1])
        - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
        + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
}

/* A place that is not finite, or that flattens a solid to a plane, is a fault of the file. */
static vug_status check_place(const vugi_gather *g, const vugi_place3 *p)
{
    double size = 1.0;
    for (int i = 0; i < 3; i++)
        size *= fabs(p->m[i][0]) + fabs(p->m[i][1]) + fabs(p->m[i][2]);
    if (fabs(determinant(p)) > 1e-12 * size && isfinite(size))
        return VUG_OK;
    return vugi_fail(g->ctx, VUG_ERR_FORMAT, "%s: piece %zu: its transform flattens it", g->name,
        g->pieces);
}

static vug_status place_vertices(vugi_gather *g, double *xyz, size_t count,
    const vugi_place3 *place)
{
    char what[VUGI_MESSAGE_SIZE];
    vugi_print(what, sizeof what, "%s: piece %zu, vertex", g->name, g->pieces);
    for (size_t v = 0; v < count; v++) {
        double *p = xyz + 3 * v, q[3] = {p[0], p[1], p[2]};
        for (int k = 0; k < 3; k++)
            p[k] = place->m[k][0] * q[0] + place->m[k][1] * q[1] + place->m[k][2] * q[2]
                + place->m[k][3];
        vug_status status = vugi_mesh_check_point(g->ctx, p, what, v);
        if (status)
            return status;
    }
    return VUG_OK;
}

static vug_status add_triangles(vugi_gather *g, const uint32_t *number, size_t vertex_count,
    const uint32_t *triangles, size_t triangle_count, bool mirrored)
{
    size_t total = g->count + triangle_count;
    if (total > VUG_MAX_TRIANGLES)
        return vugi_fail(g->ctx, VUG_ERR_LIMIT, "%s: more than %d triangles", g->name,
            VUG_MAX_TRIANGLES);
    if (!vugi_reserve(&g->ctx->mem, &g->triangle, &g->capacity, total, 3 * sizeof *g->triangle))
        return vugi_fail_memory(g->ctx);
    for (size_t t = 0; t < triangle_count; t++) {
        for (size_t k = 0; k < 3; k++) {
            uint32_t v = triangles[3 * t + (mirrored ? 2 - k : k)];
            if (v >= vertex_count)
                return vugi_fail(g->ctx, VUG_ERR_MESH,
                    "%s: piece %zu: triangle %zu names vertex %lu, but there are %zu", g->name,
                    g->pieces, t, (unsigned long)v, vertex_count);
            g->triangle[3 * (g->count + t) + k] = number[v];
        }
    }
    g->count = total;
    return VUG_OK;
}

vug_status vugi_gather_add(vugi_gather *gather, double *xyz, size_t vertex_count,
    const uint32_t *triangles, size_t triangle_count, const vugi_place3 *place)
{
    vug_context *ctx = gather->ctx;
    if (gather->pieces == MAX_PIECES)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "%s: more than %d pieces", gather->name, MAX_PIECES);
    vug_status status = vugi_step(ctx, 0.0);
    if (!status)
        status = check_place(gather, place);
    if (!status && !gather->weld.mem)
        status = vugi_weld_begin(ctx, &gather->weld, vertex_count);
    if (!status)
        status = place_vertices(gather, xyz, vertex_count, place);
    if (status)
        return status;
    uint32_t *number = vugi_alloc(&ctx->mem, vertex_count, sizeof *number);
    status = number ? vugi_weld_points(ctx, &gather->weld, xyz, vertex_count, number)
                    : vugi_fail_memory(ctx);
    if (!status)
        status = add_triangles(gather, number, vertex_count, triangles, triangle_count,
            determinant(place) < 0.0);
    vugi_free(&ctx->mem, number);
    gather->pieces++;
    return status;
}

vug_status vugi_gather_end(vugi_gather *gather, vug_mesh **out)
{
    if (gather->count == 0)
        return vugi_fail(gather->ctx, VUG_ERR_MESH, "%s: there is no triangle in it", gather->name);
    uint32_t *triangle = gather->triangle;
    gather->triangle = NULL;
    return vugi_mesh_from_weld(gather->ctx, &gather->weld, triangle, gather->count, out);
}

void vugi_gather_free(vugi_gather *gather)
{
    vugi_weld_free(&gather->weld);
    vugi_free(&gather->ctx->mem, gather->triangle);
    gather->triangle = NULL;
}
