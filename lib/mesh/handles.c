/* SPDX-License-Identifier: MIT
 * Corners - edges + triangles = 2 shells - 2 handles (Euler, Poincare), where each fan of triangles around a vertex has a
 * corner of its own, and each triangle has half of three edges. */
#include "mesh/handles.h"

#include "base/disjoint_set.h"
#include "mesh/edges.h"

static size_t count_roots(uint32_t *parent, size_t count)
{
    size_t roots = 0;
    for (size_t i = 0; i < count; i++)
        roots += vugi_sets_find(parent, (uint32_t)i) == i;
    return roots;
}

/* Joins what two triangles have in common across half-edge h of the first: corners, and themselves. */
static void join_across(const vug_mesh *mesh, const uint32_t *other, uint32_t h, uint32_t *corner,
    uint32_t *shell)
{
    const uint32_t t = h / 3, o = other[h], *v = mesh->triangles + 3 * (size_t)o;
    if (o == UINT32_MAX)
        return;
    vugi_sets_unite(shell, t, o);
    for (uint32_t end = 0; end < 2; end++) {
        const uint32_t own = 3 * t + (h % 3 + end) % 3;
        for (uint32_t k = 0; k < 3; k++)
            if (v[k] == mesh->triangles[own])
                vugi_sets_unite(corner, own, 3 * o + k);
    }
}

vug_status vugi_mesh_handles(vug_context *ctx, const vug_mesh *mesh, size_t *count)
{
    const size_t triangles = mesh->triangle_count;
    uint32_t *other = vugi_alloc(&ctx->mem, 3 * triangles, sizeof *other);
    uint32_t *corner = vugi_alloc(&ctx->mem, 3 * triangles, sizeof *corner);
    uint32_t *shell = vugi_alloc(&ctx->mem, triangles, sizeof *shell);
    vug_status status = other && corner && shell ? vugi_mesh_neighbours(ctx, mesh, other)
                                                 : vugi_fail_memory(ctx);
    if (!status) {
        vugi_sets_init(corner, 3 * triangles);
        vugi_sets_init(shell, triangles);
        for (uint32_t h = 0; h < 3 * triangles; h++)
            join_across(mesh, other, h, corner, shell);
        const size_t whole = 2 * count_roots(shell, triangles) + triangles / 2;
        const size_t corners = count_roots(corner, 3 * triangles);
        *count = whole > corners ? (whole - corners) / 2 : 0;
    }
    vugi_free(&ctx->mem, other);
    vugi_free(&ctx->mem, corner);
    vugi_free(&ctx->mem, shell);
    return status;
}
