/* SPDX-License-Identifier: MIT
 * A mesh as something to walk on: corners, edges, and what stands above a corner. */
#include "mesh/terrain.h"

#include "base/disjoint_set.h"
#include "base/vec.h"
#include "mesh/crossing.h"
#include "mesh/edges.h"

#include <math.h>
#include <string.h>

enum { BLOCK = 16384 };

/* mm: over so much corners are welded at most, twice; and standard deviations of rounded coordinates. */
static const double WELDED = 2e-6, ROUNDINGS = 10.0;

static void terrain_free(void *kept)
{
    vugi_terrain *t = kept;
    const vugi_allocator mem = t->mem;
    vugi_free(&mem, t->xyz);
    vugi_free(&mem, t->normal);
    vugi_free(&mem, t->vertex);
    vugi_free(&mem, t->order);
    vugi_free(&mem, t->place);
    vugi_free(&mem, t->corner);
    vugi_free(&mem, t->edge);
    vugi_tree_free(&t->tree);
    vugi_free(&mem, t);
}

/* Triangles as the tree has them; those that are there twice follow. */
static bool put_in_order(vugi_terrain *t)
{
    const size_t count = t->triangle_count;
    t->order = vugi_alloc(&t->mem, count, sizeof *t->order);
    t->place = vugi_alloc(&t->mem, count, sizeof *t->place);
    if (!t->order || !t->place)
        return false;
    size_t n = 0;
    for (size_t i = 0; i < count; i++)
        n += !t->tree.weight || t->tree.weight[i] > 0;
    memcpy(t->order, t->tree.order, n * sizeof *t->order);
    for (size_t i = 0; i < count && n < count; i++)
        if (t->tree.weight[i] == 0)
            t->order[n++] = (uint32_t)i;
    for (size_t i = 0; i < count; i++)
        t->place[t->order[i]] = (uint32_t)i;
    return true;
}

/* Which of the two ends of a half-edge has the vertex that another half-edge begins at. */
static uint32_t end_at(const vug_mesh *mesh, uint32_t half, uint32_t vertex)
{
    return vugi_edge_from(mesh, half) == vertex ? half : half % 3 == 2 ? half - 2 : half + 1;
}

/* Corners of triangles (three each) are one where an edge joins their triangles. Returns how many edges have one
 * triangle alone. */
static size_t unite_corners(const vug_mesh *mesh, const uint32_t *other, uint32_t *parent)
{
    size_t open = 0;
    vugi_sets_init(parent, 3 * mesh->triangle_count);
    for (uint32_t h = 0; h < 3 * mesh->triangle_count; h++) {
        open += other[h] == UINT32_MAX;
        if (other[h] == UINT32_MAX || other[h] < h)
            continue;
        const uint32_t next = h % 3 == 2 ? h - 2 : h + 1;
        vugi_sets_unite(parent, h, end_at(mesh, other[h], mesh->triangles[h]));
        vugi_sets_unite(parent, next, end_at(mesh, other[h], mesh->triangles[next]));
    }
    return open;
}

/* Numbers the corners as they come along the triangles in order. number: of each root, UINT32_MAX at first. */
static void number_corners(vugi_terrain *t, uint32_t *parent, uint32_t *number)
{
    for (size_t i = 0; i < 3 * t->triangle_count; i++) {
        const uint32_t root = vugi_sets_find(parent, 3 * t->order[i / 3] + (uint32_t)(i % 3));
        if (number[root] == UINT32_MAX)
            number[root] = (uint32_t)t->corner_count++;
        t->corner[i] = number[root];
    }
}

static double angle_between(const double u[3], const double v[3])
{
    double across[3];
    vugi_cross(u, v, across);
    return atan2(vugi_length(across), vugi_dot(u, v));
}

/* Adds the normal of a triangle to those of its corners. */
static void add_normals(vugi_terrain *t, const uint32_t c[3])
{
    double n[3];
    vugi_triangle_cross(t->xyz + 3 * (size_t)c[0], t->xyz + 3 * (size_t)c[1],
        t->xyz + 3 * (size_t)c[2], n);
    vugi_normalise(n);
    for (int k = 0; k < 3; k++) {
        const double *at = t->xyz + 3 * (size_t)c[k];
        double u[3], v[3], *normal = t->normal + 3 * (size_t)c[k];
        vugi_subtract(t->xyz + 3 * (size_t)c[(k + 1) % 3], at, u);
        vugi_subtract(t->xyz + 3 * (size_t)c[(k + 2) % 3], at, v);
        vugi_along(normal, n, angle_between(u, v), normal);
    }
}

static vug_status lay_corners(vug_context *ctx, vugi_terrain *t, const vug_mesh *mesh)
{
    t->vertex = vugi_alloc(&t->mem, t->corner_count, sizeof *t->vertex);
    t->xyz = vugi_alloc(&t->mem, 3 * t->corner_count, sizeof *t->xyz);
    t->normal = vugi_calloc(&t->mem, 3 * t->corner_count, sizeof *t->normal);
    if (!t->vertex || !t->xyz || !t->normal)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < 3 * t->triangle_count; i++) {
        const uint32_t vertex = mesh->triangles[3 * (size_t)t->order[i / 3] + i % 3];
        t->vertex[t->corner[i]] = vertex;
        memcpy(t->xyz + 3 * (size_t)t->corner[i], mesh->xyz + 3 * (size_t)vertex,
            3 * sizeof *t->xyz);
    }
    vug_status status = VUG_OK;
    for (size_t i = 0; i < t->triangle_count && !status; i++) {
        add_normals(t, t->corner + 3 * i);
        if (i % BLOCK == 0)
            status = vugi_step(ctx, 0.0);
    }
    return status;
}

/* Each edge once: with the first of its triangles in order. */
static bool list_edges(vugi_terrain *t, const uint32_t *other, size_t count)
{
    t->edge = vugi_alloc(&t->mem, 2 * count, sizeof *t->edge);
    if (!t->edge)
        return false;
    for (size_t i = 0; i < 3 * t->triangle_count; i++) {
        const uint32_t h = 3 * t->order[i / 3] + (uint32_t)(i % 3);
        if (other[h] != UINT32_MAX && t->place[other[h] / 3] < i / 3)
            continue;
        t->edge[2 * t->edge_count] = t->corner[i];
        t->edge[2 * t->edge_count++ + 1] = t->corner[i % 3 == 2 ? i - 2 : i + 1];
    }
    return true;
}

/* What it takes while the corners and edges are found: of each half-edge, which is also a corner of a triangle. */
typedef struct making {
    uint32_t *other, *parent, *number;
} making;

static vug_status lay_out(vug_context *ctx, vugi_terrain *t, const vug_mesh *mesh, const making *m)
{
    const size_t halves = 3 * mesh->triangle_count;
    t->corner = vugi_alloc(&t->mem, halves, sizeof *t->corner);
    if (!t->corner || !put_in_order(t))
        return vugi_fail_memory(ctx);
    memset(m->number, 0xff, halves * sizeof *m->number);
    const size_t open = unite_corners(mesh, m->other, m->parent);
    t->closed = t->sound = open == 0;
    vug_status status = vugi_step(ctx, 0.0);
    if (!status) {
        number_corners(t, m->parent, m->number);
        status = lay_corners(ctx, t, mesh);
    }
    if (!status && !list_edges(t, m->other, (halves + open) / 2))
        status = vugi_fail_memory(ctx);
    return status;
}

static vug_status find_corners(vug_context *ctx, vugi_terrain *t, const vug_mesh *mesh)
{
    const size_t halves = 3 * mesh->triangle_count;
    vugi_edges edges = {.half = NULL};
    making m = {.other = vugi_alloc(&ctx->mem, halves, sizeof *m.other),
        .parent = vugi_alloc(&ctx->mem, halves, sizeof *m.parent),
        .number = vugi_alloc(&ctx->mem, halves, sizeof *m.number)};
    vug_status status = m.other && m.parent && m.number ? vugi_edges_build(ctx, mesh, &edges)
                                                        : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_edges_pair(ctx, mesh, &edges, m.other);
    if (!status)
        status = vugi_step(ctx, 0.0);
    if (!status)
        status = lay_out(ctx, t, mesh, &m);
    vugi_edges_free(ctx, &edges);
    vugi_free(&ctx->mem, m.other);
    vugi_free(&ctx->mem, m.parent);
    vugi_free(&ctx->mem, m.number);
    return status;
}

/* Does no triangle cross another, and is none there twice? Where flat faces are in slivers, these lie on each other by as
 * much as coordinates are rounded or corners welded: that leads nowhere. */
static vug_status find_crossings(vug_context *ctx, vugi_terrain *t, const vug_mesh *mesh)
{
    const size_t count = mesh->triangle_count;
    const vugi_crossing_rule rule = {.folded = -2.0,
        .deep = WELDED + ROUNDINGS * vugi_mesh_grain(mesh)};
    uint8_t *bad = vugi_calloc(&ctx->mem, count, sizeof *bad);
    vug_status status = bad ? vugi_crossing_find(ctx, mesh, &t->tree, count, &rule, bad)
                            : vugi_fail_memory(ctx);
    if (!status)
        t->sound = !t->tree.weight && !memchr(bad, 1, count);
    vugi_free(&ctx->mem, bad);
    return status;
}

vug_status vugi_terrain_keep(vug_context *ctx, vug_mesh *mesh)
{
    vugi_terrain *t = vugi_calloc(&mesh->mem, 1, sizeof *t);
    if (!t)
        return vugi_fail_memory(ctx);
    t->mem = mesh->mem;
    t->triangle_count = mesh->triangle_count;
    vug_status status = vugi_tree_build(ctx, mesh, &t->tree);
    if (!status)
        status = find_corners(ctx, t, mesh);
    if (!status && t->sound)
        status = find_crossings(ctx, t, mesh);
    if (status) {
        terrain_free(t);
        return status;
    }
    mesh->kept = t;
    mesh->free_kept = terrain_free;
    return VUG_OK;
}

vugi_terrain *vugi_terrain_of(const vug_mesh *mesh)
{
    return mesh->kept;
}
