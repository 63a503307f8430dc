/* SPDX-License-Identifier: MIT
 * A mesh turned into a pose and back. */
#include "shape/hollow/turned.h"

#include "column/pose.h"

#include <string.h>

vug_status vugi_turned(vug_context *ctx, const vug_mesh *mesh, const double basis[9],
    vug_mesh **out)
{
    double *xyz = vugi_alloc(&ctx->mem, mesh->vertex_count, 3 * sizeof *xyz);
    uint32_t *tri = vugi_alloc(&ctx->mem, mesh->triangle_count, 3 * sizeof *tri);
    if (!xyz || !tri) {
        vugi_free(&ctx->mem, xyz);
        vugi_free(&ctx->mem, tri);
        return vugi_fail_memory(ctx);
    }
    for (size_t v = 0; v < mesh->vertex_count; v++)
        vugi_to_pose(basis, mesh->xyz + 3 * v, xyz + 3 * v);
    memcpy(tri, mesh->triangles, 3 * mesh->triangle_count * sizeof *tri);
    *out = vugi_mesh_adopt(&ctx->mem, xyz, mesh->vertex_count, tri, mesh->triangle_count);
    return *out ? VUG_OK : vugi_fail_memory(ctx);
}

void vugi_turn_back(const double basis[9], double *row, size_t count, size_t stride)
{
    for (size_t i = 0; i < count; i++) {
        double p[3];
        vugi_to_part(basis, row + i * stride, p);
        memcpy(row + i * stride, p, sizeof p);
    }
}
