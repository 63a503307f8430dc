/* SPDX-License-Identifier: MIT
 * Two counting sorts, by the higher vertex and then by the lower, put the half-edges of an edge
 * side by side in linear time, however many meet at one vertex. */
#include "mesh/edges.h"

#include "base/sort.h"
#include "base/vec.h"

#include <math.h>

static uint32_t low(const vug_mesh *mesh, uint32_t half)
{
    uint32_t a = vugi_edge_from(mesh, half), b = vugi_edge_to(mesh, half);
    return a < b ? a : b;
}

static uint32_t high(const vug_mesh *mesh, uint32_t half)
{
    uint32_t a = vugi_edge_from(mesh, half), b = vugi_edge_to(mesh, half);
    return a < b ? b : a;
}

/* start[v] becomes the first place of key v; keys come as counts in start[v + 1]. */
static void sum_up(uint32_t *start, size_t count)
{
    for (size_t v = 1; v <= count; v++)
        start[v] += start[v - 1];
}

static void sort_halves(const vug_mesh *mesh, vugi_edges *edges, uint32_t *by_high,
    uint32_t *start_high, uint32_t *start_low)
{
    size_t halves = 3 * mesh->triangle_count;
    for (uint32_t h = 0; h < halves; h++) {
        if (vugi_triangle_collapsed(mesh->triangles + h / 3 * 3))
            continue;
        start_high[(size_t)high(mesh, h) + 1]++;
        start_low[(size_t)low(mesh, h) + 1]++;
    }
    sum_up(start_high, mesh->vertex_count);
    sum_up(start_low, mesh->vertex_count);
    edges->count = start_low[mesh->vertex_count];
    for (uint32_t h = 0; h < halves; h++)
        if (!vugi_triangle_collapsed(mesh->triangles + h / 3 * 3))
            by_high[start_high[high(mesh, h)]++] = h;
    for (size_t i = 0; i < edges->count; i++)
        edges->half[start_low[low(mesh, by_high[i])]++] = by_high[i];
}

vug_status vugi_edges_build(vug_context *ctx, const vug_mesh *mesh, vugi_edges *edges)
{
    *edges = (vugi_edges){NULL, 0};
    if (mesh->triangle_count > VUGI_MAX_EDGE_TRIANGLES)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "edges of %zu triangles; the limit is %d",
            mesh->triangle_count, VUGI_MAX_EDGE_TRIANGLES);
    const vugi_allocator *mem = &ctx->mem;
    edges->half = vugi_alloc(mem, mesh->triangle_count, 3 * sizeof *edges->half);
    uint32_t *by_high = vugi_alloc(mem, mesh->triangle_count, 3 * sizeof *by_high);
    uint32_t *start_high = vugi_calloc(mem, mesh->vertex_count + 1, sizeof *start_high);
    uint32_t *start_low = vugi_calloc(mem, mesh->vertex_count + 1, sizeof *start_low);
    vug_status status = VUG_OK;
    if (edges->half && by_high && start_high && start_low)
        sort_halves(mesh, edges, by_high, start_high, start_low);
    else
        status = vugi_fail_memory(ctx);
    vugi_free(mem, by_high);
    vugi_free(mem, start_high);
    vugi_free(mem, start_low);
    if (status)
        vugi_edges_free(ctx, edges);
    return status;
}

void vugi_edges_free(vug_context *ctx, vugi_edges *edges)
{
    vugi_free(&ctx->mem, edges->half);
    *edges = (vugi_edges){NULL, 0};
}

size_t vugi_edges_next(const vug_mesh *mesh, const vugi_edges *edges, size_t first)
{
    uint32_t a = low(mesh, edges->half[first]), b = high(mesh, edges->half[first]);
    size_t end = first + 1;
    while (
        end < edges->count && low(mesh, edges->half[end]) == a && high(mesh, edges->half[end]) == b)
        end++;
    return end;
}

/* ---- pairing ------------------------------------------------------------------ */

/* A triangle at an edge, seen along the edge from its lower vertex to its higher. */
typedef struct leaf {
    double angle;
    uint32_t half;
    bool forward; /* runs from lower to higher: the solid is clockwise of it */
} leaf;

/* Angle of each leaf around the edge, from the first leaf's own direction. */
static void find_angles(const vug_mesh *mesh, leaf *leaves, size_t count)
{
    const double *a = mesh->xyz + 3 * (size_t)low(mesh, leaves[0].half);
    const double *b = mesh->xyz + 3 * (size_t)high(mesh, leaves[0].half);
    double axis[3], x[3] = {0.0, 0.0, 0.0}, y[3] = {0.0, 0.0, 0.0};
    vugi_subtract(b, a, axis);
    double length = vugi_length(axis);
    for (int k = 0; k < 3; k++)
        axis[k] /= length;
    for (size_t i = 0; i < count; i++) {
        uint32_t h = leaves[i].half;
        uint32_t apex = mesh->triangles[h / 3 * 3 + (h + 2) % 3];
        double to[3], across[3];
        vugi_subtract(mesh->xyz + 3 * (size_t)apex, a, to);
        double along = vugi_dot(to, axis);
        for (int k = 0; k < 3; k++)
            across[k] = to[k] - along * axis[k];
        if (i == 0) {
            for (int k = 0; k < 3; k++)
                x[k] = across[k];
            vugi_cross(axis, x, y);
        }
        leaves[i].angle = i == 0 ? 0.0 : atan2(vugi_dot(across, y), vugi_dot(across, x));
    }
}

static int compare_leaves(const void *left, const void *right, const void *user)
{
    const leaf *p = left, *q = right;
    (void)user;
    if (p->angle < q->angle || p->angle > q->angle)
        return p->angle < q->angle ? -1 : 1;
    return (p->half > q->half) - (p->half < q->half);
}

static void join(uint32_t *other, uint32_t a, uint32_t b)
{
    other[a] = b;
    other[b] = a;
}

/* Going around the edge, solid begins at a backward leaf and ends at the next forward one: such
 * two belong together, like brackets. The circle is walked twice, for brackets across its cut.
 * What stays over turns one way only and is paired in order. */
static void pair_leaves(leaf *leaves, size_t count, uint32_t *stack, uint32_t *other)
{
    size_t depth = 0;
    for (size_t i = 0; i < 2 * count; i++) {
        const leaf *l = &leaves[i % count];
        if (other[l->half] != UINT32_MAX)
            continue;
        if (!l->forward && i < count)
            stack[depth++] = l->half;
        else if (l->forward && depth > 0)
            join(other, stack[--depth], l->half);
    }
    uint32_t waiting = UINT32_MAX;
    for (size_t i = 0; i < count; i++) {
        if (other[leaves[i].half] != UINT32_MAX)
            continue;
        if (waiting == UINT32_MAX) {
            waiting = leaves[i].half;
        } else {
            join(other, waiting, leaves[i].half);
            waiting = UINT32_MAX;
        }
    }
}

static vug_status pair_many(vug_context *ctx, const vug_mesh *mesh, const uint32_t *half,
    size_t count, uint32_t *other)
{
    const vugi_allocator *mem = &ctx->mem;
    leaf *leaves = vugi_alloc(mem, count, sizeof *leaves);
    uint32_t *stack = vugi_alloc(mem, count, sizeof *stack);
    vug_status status = leaves && stack ? VUG_OK : vugi_fail_memory(ctx);
    if (!status) {
        for (size_t i = 0; i < count; i++)
            leaves[i] = (leaf){0.0, half[i],
                vugi_edge_from(mesh, half[i]) < vugi_edge_to(mesh, half[i])};
        find_angles(mesh, leaves, count);
        if (vugi_sort(mem, leaves, count, sizeof *leaves, compare_leaves, NULL))
            pair_leaves(leaves, count, stack, other);
        else
            status = vugi_fail_memory(ctx);
    }
    vugi_free(mem, leaves);
    vugi_free(mem, stack);
    return status;
}

vug_status vugi_edges_pair(vug_context *ctx, const vug_mesh *mesh, const vugi_edges *edges,
    uint32_t *other)
{
    for (size_t h = 0; h < 3 * mesh->triangle_count; h++)
        other[h] = UINT32_MAX;
    for (size_t first = 0, end; first < edges->count; first = end) {
        end = vugi_edges_next(mesh, edges, first);
        vug_status status = VUG_OK;
        if (end - first == 2)
            join(other, edges->half[first], edges->half[first + 1]);
        else if (end - first > 2)
            status = pair_many(ctx, mesh, edges->half + first, end - first, other);
        if (status)
            return status;
    }
    return VUG_OK;
}

vug_status vugi_mesh_neighbours(vug_context *ctx, const vug_mesh *mesh, uint32_t *other)
{
    vugi_edges edges;
    vug_status status = vugi_edges_build(ctx, mesh, &edges);
    if (status)
        return status;
    status = vugi_step(ctx, 0.0);
    if (!status)
        status = vugi_edges_pair(ctx, mesh, &edges, other);
    for (size_t h = 0; !status && h < 3 * mesh->triangle_count; h++)
        if (other[h] != UINT32_MAX)
            other[h] /= 3;
    vugi_edges_free(ctx, &edges);
    return status;
}
