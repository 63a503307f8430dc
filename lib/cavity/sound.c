/* SPDX-License-Identifier: MIT */
#include "cavity/sound.h"

#include "base/vec.h"
#include "column/columns.h"
#include "mesh/terrain.h"

#include <math.h>

enum { ACROSS = 128 };

/* Of the whole: by so much more than half their spacing over the walls what columns hold may differ from what there is. */
static const double LITTLE = 1e-3;

/* Area of the walls as seen from the side. */
static double side_of(const vug_mesh *mesh, const double up[3])
{
    double side = 0.0;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        const uint32_t *v = mesh->triangles + 3 * t;
        double n[3];
        vugi_triangle_cross(mesh->xyz + 3 * (size_t)v[0], mesh->xyz + 3 * (size_t)v[1],
            mesh->xyz + 3 * (size_t)v[2], n);
        const double flat = vugi_dot(n, up);
        side += 0.5 * sqrt(fmax(0.0, vugi_dot(n, n) - flat * flat));
    }
    return side;
}

static vug_status agree(vug_context *ctx, const vugi_cavity *cavity, bool *good)
{
    const vug_mesh *mesh = cavity->mesh;
    const vugi_bodies bodies = {.mesh = (const vug_mesh *const[]){mesh}, .count = 1};
    vugi_columns columns = {.nx = 0};
    vug_status status = VUG_OK;
    double longest = 0.0;
    for (int k = 0; k < 3; k++)
        longest = fmax(longest, mesh->hi[k] - mesh->lo[k]);
    const double h = longest / ACROSS;
    *good = true;
    for (int k = 0; k < 3 && *good && !status; k++) {
        const double up[3] = {k == 0, k == 1, k == 2};
        status = vugi_columns_build(ctx, &ctx->mem, &bodies, up, h, &columns);
        if (!status)
            status = vugi_step(ctx, 0.0);
        if (!status)
            *good = fabs(vugi_columns_volume(&columns) - cavity->volume)
                <= 0.5 * h * side_of(mesh, up) + LITTLE * cavity->volume;
    }
    vugi_columns_free(&ctx->mem, &columns);
    return status;
}

vug_status vugi_cavity_lay(vug_context *ctx, vugi_cavity *cavity)
{
    bool good;
    vug_status status = vugi_terrain_keep(ctx, cavity->mesh);
    if (status || !vugi_terrain_of(cavity->mesh)->sound)
        return status;
    status = agree(ctx, cavity, &good);
    if (!status)
        vugi_terrain_of(cavity->mesh)->sound = good;
    return status;
}
