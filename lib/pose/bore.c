/* SPDX-License-Identifier: MIT
 * Where to drill for a pocket: straight from outside to its highest point. */
#include "base/vec.h"
#include "pose/pockets.h"

#include "cavity/cavity.h"
#include "cavity/ray.h"

#include <math.h>
#include <string.h>

enum { DIRECTIONS = 400 };

/* Skin distance along one way out, INFINITY if another wall stands in it: the ray from inside the
 * cavity leaves it, then the part, and meets nothing more. */
static double way_out(const vug_mesh *part, const double from[3], const double out[3],
    double *inner)
{
    uint32_t triangle;
    double wall = vugi_ray_hit(part, from, out, 0.0, &triangle);
    double skin = vugi_ray_hit(part, from, out, wall + 1e-9, &triangle);
    if (!(skin < INFINITY) || vugi_ray_hit(part, from, out, skin + 1e-9, &triangle) < INFINITY)
        return INFINITY;
    *inner = wall;
    return skin;
}

vug_status vug_pockets_bore(vug_context *ctx, const vug_cavities *cavities,
    const vug_pockets *pockets, size_t index, vug_bore_info *info)
{
    vug_pocket_info pocket = {.struct_size = sizeof pocket};
    vug_bore_info best = {.struct_size = sizeof best, .pocket = (uint32_t)index};
    double ways[3 * DIRECTIONS], least = INFINITY, inside[3], drop;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !pockets || !info)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities, pockets or info is NULL");
    if (vug_pockets_get(pockets, index, &pocket))
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no pocket %zu, only %zu", index,
            vug_pockets_count(pockets));
    vugi_progress_begin(ctx, "bore");
    const double *up = vugi_pockets_up(pockets);
    double height = pocket.top_mm[0] * up[0] + pocket.top_mm[1] * up[1] + pocket.top_mm[2] * up[2];
    drop = fmin(0.25 * vugi_pockets_spacing(pockets), 0.25 * (height - pocket.level_mm));
    for (int k = 0; k < 3; k++)
        inside[k] = pocket.top_mm[k] - drop * up[k];
    vug_sphere_points(DIRECTIONS, ways);
    memcpy(ways, up, 3 * sizeof *ways);
    for (int i = 0; i < DIRECTIONS; i++) {
        double *out = ways + 3 * i, inner = 0.0;
        if (vugi_dot(out, up) < 0.0)
            continue; /* a bore that leads down holds the air back */
        vug_status status = vugi_step(ctx, (double)i / DIRECTIONS);
        if (status)
            return status;
        double skin = way_out(cavities->part, inside, out, &inner);
        if (!(skin < 0.999 * least)) /* of equals the first: straight up */
            continue;
        least = skin;
        for (int k = 0; k < 3; k++) {
            best.point_mm[k] = inside[k] + skin * out[k];
            best.direction[k] = -out[k];
        }
        best.depth_mm = skin - inner;
    }
    if (!(least < INFINITY))
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
            "no straight way from outside to pocket %zu: "
            "reach it by turning the part instead",
            index);
    vug_status status = vugi_step(ctx, 1.0);
    return status ? status : vugi_struct_write(ctx, info, &best, sizeof best, "vug_bore_info");
}
