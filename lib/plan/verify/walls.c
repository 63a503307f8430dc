/* SPDX-License-Identifier: MIT
 * Walls by inscribed balls, from the skin of the cavities outwards. */
#include "plan/verify/walls.h"

#include "base/sort.h"
#include "cavity/thickness.h"
#include "mesh/tree.h"
#include "skin/skin_types.h"

#include <math.h>
#include <string.h>

/* Pieces of skin that stand for all: percentiles of a wall need no more. */
enum { MOST_PIECES = 2000 };

/* Thickness behind a piece of skin. What was measured on a grid lies a little beside the part's wall: from that on. */
static double behind(const vugi_tree *tree, const vugi_skin_piece *piece, double cell)
{
    const double most = 2.0 * cell, facing = 0.5;
    double point[3];
    if (vugi_tree_nearest_facing(tree, piece->point, most, piece->inward, facing, point, NULL)
        == INFINITY)
        memcpy(point, piece->point, sizeof point);
    const double out[3] = {-piece->inward[0], -piece->inward[1], -piece->inward[2]};
    return vugi_thickness_of(tree, point, out);
}

static vug_status measure(vug_context *ctx, const vugi_tree *tree, const struct vug_skin *skin,
    double cell, double *half, double *thin)
{
    size_t stride = 1 + skin->piece_count / MOST_PIECES, count = 0;
    double area = 0.0;
    vugi_thick *list = vugi_alloc(&ctx->mem, skin->piece_count / stride + 1, sizeof *list);
    vug_status status = list ? VUG_OK : vugi_fail_memory(ctx);
    for (size_t i = 0; i < skin->piece_count && !status; i += stride) {
        const vugi_skin_piece *piece = skin->piece + i;
        list[count++] = (vugi_thick){behind(tree, piece, cell), piece->area};
        area += piece->area;
        status = count % 64 == 0 ? vugi_step(ctx, 0.0) : VUG_OK;
    }
    if (!status && !vugi_sort(&ctx->mem, list, count, sizeof *list, vugi_by_number, NULL))
        status = vugi_fail_memory(ctx);
    if (!status && count > 0) {
        *half = vugi_thick_percentile(list, count, area, 0.5);
        *thin = vugi_thick_percentile(list, count, area, 0.05);
    }
    vugi_free(&ctx->mem, list);
    return status;
}

vug_status vugi_walls_measure(vug_context *ctx, const vug_cavities *cavities, double *half,
    double *thin)
{
    vugi_tree tree;
    vug_skin *skin = NULL;
    vug_status status = vugi_tree_build(ctx, cavities->part, &tree);
    if (status)
        return status;
    status = vug_skin_make(ctx, cavities, NULL, &skin);
    if (!status)
        status = measure(ctx, &tree, skin, cavities->cell, half, thin);
    vug_skin_free(skin);
    vugi_tree_free(&tree);
    return status;
}
