/* SPDX-License-Identifier: MIT */
#include "mesh/overlap.h"

#include "mesh/crossing.h"
#include "mesh/measure.h"

#include <string.h>

/* Roundings of coordinates by which triangles may lie in one another without crossing. */
static const double ROUNDINGS = 4.0;

vug_status vugi_shells_overlap(vug_context *ctx, const vug_mesh *mesh, const vug_shells *shells,
    uint8_t *through)
{
    const size_t count = mesh->triangle_count;
    const vugi_crossing_rule rule = {.folded = -2.0, .deep = ROUNDINGS * vugi_mesh_grain(mesh)};
    vugi_tree tree = {.mesh = NULL};
    uint8_t *bad = vugi_calloc(&ctx->mem, count, sizeof *bad);
    vug_status status = bad ? vugi_tree_build(ctx, mesh, &tree) : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_crossing_find(ctx, mesh, &tree, count, &rule, bad);
    memset(through, 0, shells->count);
    for (size_t t = 0; t < count && !status; t++)
        through[shells->of[t]] |= bad[t];
    vugi_tree_free(&tree);
    vugi_free(&ctx->mem, bad);
    return status;
}
