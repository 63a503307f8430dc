/* SPDX-License-Identifier: MIT
 * A counting sort by the lower vertex, and the few of each by the higher one, put the half-edges of an edge side by
 * side. */
#include "mesh/edges.h"

#include "base/sort.h"
#include "base/vec.h"

#include <math.h>
#include <string.h>

enum { FEW = 32, BLOCK = 8192 };

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

/* Half-edges by their lower vertex, each bucket in their own order. start[v] becomes the end of bucket v. */
static void fill_buckets(const vug_mesh *mesh, vugi_edges *edges, uint32_t *start)
{
    const size_t halves = 3 * mesh->triangle_count;
    for (uint32_t h = 0; h < halves; h++)
        if (!vugi_triangle_collapsed(mesh->triangles + h / 3 * 3))
            start[(size_t)low(mesh, h) + 1]++;
    for (size_t v = 1; v <= mesh->vertex_count; v++)
        start[v] += start[v - 1];
    edges->count = start[mesh->vertex_count];
    for (uint32_t h = 0; h < halves; h++)
        if (!vugi_triangle_collapsed(mesh->triangles + h / 3 * 3))
            edges->half[start[low(mesh, h)]++] = h;
}

static int compare_high(const void *left, const void *right, const void *user)
{
    const uint32_t a = high(user, *(const uint32_t *)left),
                   b = high(user, *(const uint32_t *)right);
    return (a > b) - (a < b);
}

/* One bucket by the higher vertex. Most hold a few: those are sorted by insertion. */
static bool sort_bucket(const vugi_allocator *mem, const vug_mesh *mesh, uint32_t *half,
    size_t count)
{
    if (count > FEW)
        return vugi_sort(mem, half, count, sizeof *half, compare_high, mesh);
    uint32_t key[FEW];
    for (size_t i = 0; i < count; i++) {
        const uint32_t h = half[i], k = high(mesh, h);
        size_t at = i;
        for (; at > 0 && key[at - 1] > k; at--) {
            key[at] = key[at - 1];
            half[at] = half[at - 1];
        }
        key[at] = k;
        half[at] = h;
    }
    return true;
}

/* end: of each bucket. */
static vug_status sort_buckets(vug_context *ctx, const vug_mesh *mesh, vugi_edges *edges,
    const uint32_t *end)
{
    const size_t blocks = (mesh->vertex_count + BLOCK - 1) / BLOCK;
    uint8_t failed = 0;
#pragma omp parallel for schedule(static) num_threads(vugi_threads(ctx, blocks))
    for (size_t b = 0; b < blocks; b++) {
        const size_t last = b + 1 < blocks ? (b + 1) * BLOCK : mesh->vertex_count;
        if (vugi_pulse(ctx, 0.0))
            continue;
        for (size_t v = b * BLOCK; v < last; v++) {
            const uint32_t from = v > 0 ? end[v - 1] : 0;
            if (!sort_bucket(&ctx->mem, mesh, edges->half + from, end[v] - from))
                vugi_raise(&failed);
        }
    }
    return failed ? vugi_fail_memory(ctx) : vugi_step(ctx, 0.0);
}

vug_status vugi_edges_build(vug_context *ctx, const vug_mesh *mesh, vugi_edges *edges)
{
    *edges = (vugi_edges){NULL, 0};
    if (mesh->triangle_count > VUGI_MAX_EDGE_TRIANGLES)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "edges of %zu triangles; the limit is %d",
            mesh->triangle_count, VUGI_MAX_EDGE_TRIANGLES);
    edges->half = vugi_alloc(&ctx->mem, mesh->triangle_count, 3 * sizeof *edges->half);
    uint32_t *start = vugi_calloc(&ctx->mem, mesh->vertex_count + 1, sizeof *start);
    vug_status status = edges->half && start ? VUG_OK : vugi_fail_memory(ctx);
    if (!status) {
        fill_buckets(mesh, edges, start);
        status = sort_buckets(ctx, mesh, edges, start);
    }
    vugi_free(&ctx->mem, start);
    if (status)
        vugi_edges_free(ctx, edges);
    return status;
}

void vugi_edges_free(vug_context *ctx, vugi_edges *edges)
{
    vugi_free(&ctx->mem, edges->half);
    *edges = (vugi_edges){NULL, 0};
}

static bool same_edge(const vug_mesh *mesh, uint32_t h, uint32_t g)
{
    return low(mesh, h) == low(mesh, g) && high(mesh, h) == high(mesh, g);
}

size_t vugi_edges_next(const vug_mesh *mesh, const vugi_edges *edges, size_t first)
{
    size_t end = first + 1;
    while (end < edges->count && same_edge(mesh, edges->half[first], edges->half[end]))
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

/* false: no memory. */
static bool pair_many(const vugi_allocator *mem, const vug_mesh *mesh, const uint32_t *half,
    size_t count, uint32_t *other)
{
    leaf *leaves = vugi_alloc(mem, count, sizeof *leaves);
    uint32_t *stack = vugi_alloc(mem, count, sizeof *stack);
    bool done = leaves && stack;
    if (done) {
        for (size_t i = 0; i < count; i++)
            leaves[i] = (leaf){0.0, half[i],
                vugi_edge_from(mesh, half[i]) < vugi_edge_to(mesh, half[i])};
        find_angles(mesh, leaves, count);
        done = vugi_sort(mem, leaves, count, sizeof *leaves, compare_leaves, NULL);
    }
    if (done)
        pair_leaves(leaves, count, stack, other);
    vugi_free(mem, leaves);
    vugi_free(mem, stack);
    return done;
}

/* The edges that begin in a block of half-edges. false: no memory. */
static bool pair_block(const vugi_allocator *mem, const vug_mesh *mesh, const vugi_edges *edges,
    size_t block, uint32_t *other)
{
    const size_t last = (block + 1) * BLOCK < edges->count ? (block + 1) * BLOCK : edges->count;
    size_t first = block * BLOCK;
    bool done = true;
    while (first > 0 && first < last && same_edge(mesh, edges->half[first - 1], edges->half[first]))
        first++;
    for (size_t end; first < last && done; first = end) {
        end = vugi_edges_next(mesh, edges, first);
        if (end - first == 2)
            join(other, edges->half[first], edges->half[first + 1]);
        else if (end - first > 2)
            done = pair_many(mem, mesh, edges->half + first, end - first, other);
    }
    return done;
}

vug_status vugi_edges_pair(vug_context *ctx, const vug_mesh *mesh, const vugi_edges *edges,
    uint32_t *other)
{
    const size_t blocks = (edges->count + BLOCK - 1) / BLOCK;
    uint8_t failed = 0;
    memset(other, 0xff, 3 * mesh->triangle_count * sizeof *other);
#pragma omp parallel for schedule(static) num_threads(vugi_threads(ctx, blocks))
    for (size_t b = 0; b < blocks; b++)
        if (!vugi_pulse(ctx, 0.0) && !pair_block(&ctx->mem, mesh, edges, b, other))
            vugi_raise(&failed);
    return failed ? vugi_fail_memory(ctx) : vugi_step(ctx, 0.0);
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
