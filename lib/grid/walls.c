/* SPDX-License-Identifier: MIT
 * Where a mesh cuts the lines between neighbouring cells: their distances from a wall to a part of a
 * cell, which a passage of a few cells needs. */
#include "grid/walls.h"

#include <math.h>
#include <string.h>

/* The nearest a wall can be, in steps of the gap: a point on the wall itself still has an equation. */
enum { LEAST = 5 };

static void put(uint8_t *gap, double part)
{
    uint8_t steps = (uint8_t)fmax(LEAST, fmin(VUGI_GAP_CELL, round(part * VUGI_GAP_CELL)));
    if (steps < *gap)
        *gap = steps;
}

/* The triangle cuts the line through cells (u, v) along axis a at w. */
static void cut(const vugi_grid *g, int a, const int32_t at[3], double w, uint8_t *gap)
{
    int32_t below = (int32_t)floor(w);
    int32_t cell[3] = {at[0], at[1], at[2]};
    if (w < -1.0 || w >= g->n[a])
        return;
    cell[a] = below;
    if (below >= 0)
        put(gap + 6 * vugi_grid_cell(g, cell[0], cell[1], cell[2]) + 2 * a + 1, w - below);
    cell[a] = below + 1;
    if (below + 1 < g->n[a])
        put(gap + 6 * vugi_grid_cell(g, cell[0], cell[1], cell[2]) + 2 * a, below + 1.0 - w);
}

/* Lines along axis a that triangle p (corners in cells) cuts. */
static void cut_lines(const vugi_grid *g, int a, double p[3][3], uint8_t *gap)
{
    const int u = (a + 1) % 3, v = (a + 2) % 3;
    double du1 = p[1][u] - p[0][u], dv1 = p[1][v] - p[0][v];
    double du2 = p[2][u] - p[0][u], dv2 = p[2][v] - p[0][v], area = du1 * dv2 - du2 * dv1;
    if (area == 0.0)
        return;
    double lo = fmin(p[0][u], fmin(p[1][u], p[2][u])), hi = fmax(p[0][u], fmax(p[1][u], p[2][u]));
    int32_t u0 = (int32_t)fmax(0.0, ceil(lo)), u1 = (int32_t)fmin(g->n[u] - 1.0, floor(hi));
    lo = fmin(p[0][v], fmin(p[1][v], p[2][v]));
    hi = fmax(p[0][v], fmax(p[1][v], p[2][v]));
    int32_t v0 = (int32_t)fmax(0.0, ceil(lo)), v1 = (int32_t)fmin(g->n[v] - 1.0, floor(hi));
    for (int32_t j = v0; j <= v1; j++) {
        for (int32_t i = u0; i <= u1; i++) {
            double x = i - p[0][u], y = j - p[0][v];
            double s = (x * dv2 - y * du2) / area, t = (y * du1 - x * dv1) / area;
            if (s < -1e-9 || t < -1e-9 || s + t > 1.0 + 1e-9)
                continue;
            int32_t at[3] = {0, 0, 0};
            at[u] = i;
            at[v] = j;
            cut(g, a, at, p[0][a] + s * (p[1][a] - p[0][a]) + t * (p[2][a] - p[0][a]), gap);
        }
    }
}

vug_status vugi_grid_walls(vug_context *ctx, const vug_mesh *mesh, const uint32_t *weight,
    const vugi_grid *g, uint8_t *gap)
{
    memset(gap, VUGI_GAP_NONE, 6 * vugi_grid_count(g));
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        double p[3][3];
        bool near = !weight || weight[t] > 0;
        if (t % 4096 == 0) {
            vug_status status = vugi_step(ctx, 0.0);
            if (status)
                return status;
        }
        for (size_t c = 0; c < 3; c++)
            for (int k = 0; k < 3; k++)
                p[c][k] = (mesh->xyz[3 * (size_t)mesh->triangles[3 * t + c] + (size_t)k]
                              - g->origin[k])
                    / g->h;
        for (int k = 0; k < 3; k++)
            near = near && fmax(p[0][k], fmax(p[1][k], p[2][k])) >= -1.0
                && fmin(p[0][k], fmin(p[1][k], p[2][k])) <= g->n[k];
        for (int a = 0; near && a < 3; a++)
            cut_lines(g, a, p, gap);
    }
    return VUG_OK;
}
