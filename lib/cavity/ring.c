/* SPDX-License-Identifier: MIT */
#include "cavity/ring.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "base/vec.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Side of a triangle: a cavity from 0, the outer skin, or not known yet. */
enum { SKIN = -1, UNKNOWN = -2 };

typedef struct rings {
    const vug_mesh *mesh;
    const uint32_t *other;
    const vugi_void *v;
    int32_t *side;
} rings;

static const double *corner(const vug_mesh *mesh, size_t t, size_t k)
{
    assert(t < mesh->triangle_count && k < 3);
    return mesh->xyz + 3 * (size_t)mesh->triangles[3 * t + k];
}

/* The void a little in front of the middle of a triangle. */
static int32_t side_of(const rings *r, size_t t)
{
    static const double depth[] = {0.6, 1.0, 1.5};
    const double *a = corner(r->mesh, t, 0), *b = corner(r->mesh, t, 1), *c = corner(r->mesh, t, 2);
    double n[3];
    vugi_triangle_cross(a, b, c, n);
    double length = vugi_length(n);
    if (!(length > 0.0))
        return UNKNOWN;
    for (size_t i = 0; i < sizeof depth / sizeof *depth; i++) {
        double at[3];
        for (int k = 0; k < 3; k++)
            at[k] = (a[k] + b[k] + c[k]) / 3.0 + depth[i] * r->v->grid.h * n[k] / length;
        size_t cell = vugi_grid_nearest(&r->v->grid, at);
        if (cell == SIZE_MAX)
            return SKIN;
        uint32_t label = r->v->label[cell];
        if (label == vugi_label_outside)
            return SKIN;
        if (label != vugi_label_solid)
            return r->v->chamber[label].cavity;
    }
    return UNKNOWN;
}

/* Triangles that face no labelled void take the side of the nearest that does, by steps. */
static vug_status spread(vug_context *ctx, rings *r)
{
    size_t n = r->mesh->triangle_count, head = 0, tail = 0;
    uint32_t *queue = vugi_alloc(&ctx->mem, n, sizeof *queue);
    if (!queue)
        return vugi_fail_memory(ctx);
    for (uint32_t t = 0; t < n; t++)
        if (r->side[t] != UNKNOWN)
            queue[tail++] = t;
    while (head < tail) {
        uint32_t t = queue[head++];
        for (size_t k = 0; k < 3; k++) {
            uint32_t o = r->other[3 * (size_t)t + k];
            if (o == UINT32_MAX || r->side[o] != UNKNOWN)
                continue;
            r->side[o] = r->side[t];
            queue[tail++] = o;
        }
    }
    vugi_free(&ctx->mem, queue);
    return VUG_OK;
}

/* A half-edge of the wall with skin on the other side. */
typedef struct rim_edge {
    uint32_t from, to;
} rim_edge;

static bool collect(vug_context *ctx, const rings *r, rim_edge **edge, size_t *count)
{
    size_t capacity = 0;
    for (size_t t = 0; t < r->mesh->triangle_count; t++) {
        for (size_t k = 0; k < 3; k++) {
            uint32_t o = r->other[3 * t + k];
            if (r->side[t] < 0 || o == UINT32_MAX || r->side[o] != SKIN)
                continue;
            if (!vugi_reserve(&ctx->mem, edge, &capacity, *count + 1, sizeof **edge))
                return false;
            (*edge)[(*count)++] = (rim_edge){r->mesh->triangles[3 * t + k],
                r->mesh->triangles[3 * t + (k + 1) % 3]};
        }
    }
    return true;
}

/* Edges joined end to end, whatever the order: parent gets one number for each ring. */
static void join_edges(const rim_edge *edge, size_t count, uint32_t *parent)
{
    vugi_sets_init(parent, count);
    for (uint32_t i = 0; i < count; i++) {
        const rim_edge key = {edge[i].to, 0};
        size_t next = vugi_lower_bound(&key, edge, count, sizeof *edge, vugi_by_pair, NULL);
        for (; next < count && edge[next].from == edge[i].to; next++)
            vugi_sets_unite(parent, i, (uint32_t)next);
    }
}

/* Centre, and half the sum of p x q: the area vector of the ring, which points outward. */
static void measure_ring(const rings *r, const rim_edge *edge, const uint32_t *ring, size_t count,
    uint32_t number, vugi_mouth *m)
{
    double weight = 0.0, area[3] = {0.0, 0.0, 0.0}, extent = 0.0;
    const double *xyz = r->mesh->xyz;
    *m = (vugi_mouth){.slack = 0.0};
    for (int pass = 0; pass < 2; pass++) {
        for (size_t i = 0; i < count; i++) {
            if (ring[i] != number)
                continue;
            double p[3], q[3], cross[3];
            vugi_subtract(xyz + 3 * (size_t)edge[i].from, m->center, p);
            vugi_subtract(xyz + 3 * (size_t)edge[i].to, m->center, q);
            vugi_cross(p, q, cross);
            double length = vugi_point_distance(q, p);
            weight += pass == 0 ? length : 0.0;
            extent = pass == 1 ? fmax(extent, vugi_length(p)) : 0.0;
            for (int k = 0; k < 3; k++)
                area[k] += pass == 0 ? 0.5 * length * (p[k] + q[k]) : 0.5 * cross[k];
        }
        for (int k = 0; k < 3 && pass == 0; k++) {
            m->center[k] = area[k] / weight;
            area[k] = 0.0;
        }
    }
    m->area = vugi_length(area);
    m->slack = 0.4 * sqrt(m->area);
    m->reach = 3.0 * extent;
    for (int k = 0; k < 3; k++)
        m->normal[k] = m->area > 0.0 ? area[k] / m->area : 0.0;
}

static vug_status list_rings(vug_context *ctx, const rings *r, const rim_edge *edge, size_t count,
    vugi_mouth **mouth, size_t *mouth_count)
{
    uint32_t *ring = vugi_alloc(&ctx->mem, count, sizeof *ring);
    size_t made = 0;
    if (!ring)
        return vugi_fail_memory(ctx);
    join_edges(edge, count, ring);
    for (uint32_t i = 0; i < count; i++)
        made += vugi_sets_find(ring, i) == i;
    for (uint32_t i = 0; i < count; i++)
        ring[i] = vugi_sets_find(ring, i);
    *mouth = vugi_alloc(&ctx->mem, made, sizeof **mouth);
    if (!*mouth) {
        vugi_free(&ctx->mem, ring);
        return vugi_fail_memory(ctx);
    }
    for (uint32_t i = 0; i < count; i++) {
        vugi_mouth here;
        if (ring[i] != i)
            continue;
        measure_ring(r, edge, ring, count, i, &here);
        if (here.area > 0.0)
            (*mouth)[(*mouth_count)++] = here;
    }
    vugi_free(&ctx->mem, ring);
    return VUG_OK;
}

vug_status vugi_rings_find(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    const vugi_void *v, vugi_mouth **mouth, size_t *count)
{
    rings r = {.mesh = mesh, .other = other, .v = v};
    rim_edge *edge = NULL;
    size_t edge_count = 0;
    *mouth = NULL;
    *count = 0;
    r.side = vugi_alloc(&ctx->mem, mesh->triangle_count, sizeof *r.side);
    if (!r.side)
        return vugi_fail_memory(ctx);
#pragma omp parallel for schedule(static) num_threads(vugi_threads(ctx, mesh->triangle_count))
    for (size_t t = 0; t < mesh->triangle_count; t++)
        r.side[t] = side_of(&r, t);
    vug_status status = spread(ctx, &r);
    if (!status && !collect(ctx, &r, &edge, &edge_count))
        status = vugi_fail_memory(ctx);
    if (!status && edge_count > 0) {
        if (vugi_sort(&ctx->mem, edge, edge_count, sizeof *edge, vugi_by_pair, NULL))
            status = list_rings(ctx, &r, edge, edge_count, mouth, count);
        else
            status = vugi_fail_memory(ctx);
    }
    vugi_free(&ctx->mem, edge);
    vugi_free(&ctx->mem, r.side);
    return status;
}
