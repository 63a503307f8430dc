/* SPDX-License-Identifier: MIT */
#include "cavity/raygrid.h"

#include "mesh/hit.h"

#include <assert.h>
#include <math.h>

/* Cells along the longest side: about two triangles of the surface in a cell. */
static int32_t cells_across(const vug_mesh *mesh)
{
    double n = ceil(sqrt((double)mesh->triangle_count / 2.0));
    return (int32_t)fmin(160.0, fmax(4.0, n));
}

static int32_t cell_of(const vugi_raygrid *g, double x, int k)
{
    assert(k >= 0 && k < 3);
    double at = floor((x - g->lo[k]) / g->cell);
    return (int32_t)fmin(g->n[k] - 1.0, fmax(0.0, at));
}

static size_t cell_index(const vugi_raygrid *g, const int32_t at[3])
{
    return ((size_t)at[2] * (size_t)g->n[1] + (size_t)at[1]) * (size_t)g->n[0] + (size_t)at[0];
}

/* Cells that the bounds of a triangle meet. */
static void triangle_cells(const vugi_raygrid *g, size_t t, int32_t lo[3], int32_t hi[3])
{
    const uint32_t *v = g->mesh->triangles + 3 * t;
    for (int k = 0; k < 3; k++) {
        double a = g->mesh->xyz[3 * (size_t)v[0] + (size_t)k];
        double b = g->mesh->xyz[3 * (size_t)v[1] + (size_t)k];
        double c = g->mesh->xyz[3 * (size_t)v[2] + (size_t)k];
        double slack = 1e-6 * g->cell;
        lo[k] = cell_of(g, fmin(a, fmin(b, c)) - slack, k);
        hi[k] = cell_of(g, fmax(a, fmax(b, c)) + slack, k);
    }
}

/* Counts (list NULL) or lists the triangles of each cell. first[i] moves on as cell i fills. */
static void enter_all(const vugi_raygrid *g, uint32_t *first, uint32_t *list)
{
    for (size_t t = 0; t < g->mesh->triangle_count; t++) {
        int32_t lo[3], hi[3], at[3];
        triangle_cells(g, t, lo, hi);
        for (at[2] = lo[2]; at[2] <= hi[2]; at[2]++)
            for (at[1] = lo[1]; at[1] <= hi[1]; at[1]++)
                for (at[0] = lo[0]; at[0] <= hi[0]; at[0]++) {
                    uint32_t *place = first + cell_index(g, at);
                    if (list)
                        list[*place] = (uint32_t)t;
                    (*place)++;
                }
    }
}

vug_status vugi_raygrid_build(vug_context *ctx, const vugi_allocator *mem, const vug_mesh *mesh,
    vugi_raygrid *g)
{
    double longest = 0.0;
    *g = (vugi_raygrid){.mesh = mesh};
    for (int k = 0; k < 3; k++)
        longest = fmax(longest, mesh->hi[k] - mesh->lo[k]);
    g->cell = fmax(longest, 1e-9) / cells_across(mesh);
    size_t cells = 1;
    for (int k = 0; k < 3; k++) {
        g->lo[k] = mesh->lo[k] - 0.5 * g->cell;
        g->n[k] = (int32_t)ceil((mesh->hi[k] - mesh->lo[k]) / g->cell) + 1;
        cells *= (size_t)g->n[k];
    }
    g->first = vugi_calloc(mem, cells + 1, sizeof *g->first);
    if (!g->first)
        return vugi_fail_memory(ctx);
    enter_all(g, g->first, NULL);
    uint64_t total = 0;
    for (size_t i = 0; i <= cells; i++) {
        uint32_t count = g->first[i];
        g->first[i] = (uint32_t)total;
        total += count;
    }
    if (total > UINT32_MAX) {
        vugi_raygrid_free(mem, g);
        return vugi_fail(ctx, VUG_ERR_LIMIT,
            "the part's triangles overlap too much for a ray grid");
    }
    g->triangle = vugi_alloc(mem, (size_t)total, sizeof *g->triangle);
    if (!g->triangle) {
        vugi_raygrid_free(mem, g);
        return vugi_fail_memory(ctx);
    }
    enter_all(g, g->first, g->triangle);
    for (size_t i = cells; i > 0; i--)
        g->first[i] = g->first[i - 1];
    g->first[0] = 0;
    return VUG_OK;
}

void vugi_raygrid_free(const vugi_allocator *mem, vugi_raygrid *g)
{
    vugi_free(mem, g->first);
    vugi_free(mem, g->triangle);
    *g = (vugi_raygrid){.mesh = NULL};
}

static void cell_hits(const vugi_raygrid *g, size_t cell, const double o[3], const double d[3],
    double from, vugi_hit *best)
{
    for (uint32_t i = g->first[cell]; i < g->first[cell + 1]; i++) {
        bool out = false;
        double at = vugi_mesh_hit(g->mesh, g->triangle[i], o, d, &out);
        if (at > from && at < best->distance)
            *best = (vugi_hit){at, g->triangle[i], out};
    }
}

/* Walks the cells along the ray: Amanatides and Woo, Eurographics 1987. */
vugi_hit vugi_raygrid_hit(const vugi_raygrid *g, const double o[3], const double d[3], double from)
{
    vugi_hit best = {INFINITY, 0, false};
    double enter = fmax(0.0, from), leave = INFINITY, next[3], step[3];
    int32_t at[3];
    for (int k = 0; k < 3; k++) {
        double a = g->lo[k] - o[k], b = a + g->n[k] * g->cell;
        if (d[k] == 0.0) {
            if (a > 0.0 || b < 0.0)
                return best;
            continue;
        }
        enter = fmax(enter, fmin(a / d[k], b / d[k]));
        leave = fmin(leave, fmax(a / d[k], b / d[k]));
    }
    if (enter > leave)
        return best;
    for (int k = 0; k < 3; k++) {
        at[k] = cell_of(g, o[k] + enter * d[k], k);
        double edge = g->lo[k] + (at[k] + (d[k] > 0.0)) * g->cell;
        next[k] = d[k] == 0.0 ? INFINITY : (edge - o[k]) / d[k];
        step[k] = d[k] == 0.0 ? INFINITY : g->cell / fabs(d[k]);
    }
    for (;;) {
        int k = next[0] <= next[1] ? (next[0] <= next[2] ? 0 : 2) : (next[1] <= next[2] ? 1 : 2);
        cell_hits(g, cell_index(g, at), o, d, from, &best);
        if (best.distance <= next[k] || next[k] > leave)
            return best;
        at[k] += d[k] > 0.0 ? 1 : -1;
        if (at[k] < 0 || at[k] >= g->n[k])
            return best;
        next[k] += step[k];
    }
}
