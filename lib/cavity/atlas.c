/* SPDX-License-Identifier: MIT
 * Which chamber a place lies in, at half the fineness of the grid that found the chambers. */
#include "cavity/atlas.h"

#include <math.h>
#include <string.h>

enum { COARSER = 2, MOST = 254 };

/* Cells over the cavity's box, each COARSER cells of v wide and in line with them. */
static vugi_grid grid_over(const vugi_void *v, const vug_mesh *mesh)
{
    const vugi_grid *g = &v->grid;
    vugi_grid out = {.h = COARSER * g->h};
    for (int k = 0; k < 3; k++) {
        double lo = floor((mesh->lo[k] - g->origin[k]) / g->h - 1.0);
        double hi = ceil((mesh->hi[k] - g->origin[k]) / g->h + 1.0);
        lo = fmax(0.0, fmin(lo, g->n[k] - 1.0));
        hi = fmax(lo, fmin(hi, g->n[k] - 1.0));
        out.origin[k] = g->origin[k] + (lo + 0.5 * (COARSER - 1)) * g->h;
        out.n[k] = (int32_t)((hi - lo) / COARSER) + 1;
    }
    return out;
}

static vug_status create(vug_context *ctx, const vugi_void *v, vugi_cavity *cavity)
{
    vugi_atlas *a = vugi_alloc(&ctx->mem, 1, sizeof *a);
    if (!a)
        return vugi_fail_memory(ctx);
    a->mem = ctx->mem;
    atomic_init(&a->owners, 1);
    a->grid = grid_over(v, cavity->mesh);
    a->chamber = vugi_calloc(&ctx->mem, vugi_grid_count(&a->grid), 1);
    if (!a->chamber) {
        vugi_atlas_free(a);
        return vugi_fail_memory(ctx);
    }
    cavity->atlas = a;
    return VUG_OK;
}

vug_status vugi_atlas_add(vug_context *ctx, const vugi_void *v, int32_t number, int32_t offset,
    vugi_cavity *cavity)
{
    int32_t first = 0, at[3];
    if (cavity->chamber_count < 2 || cavity->chamber_count > MOST)
        return VUG_OK;
    if (!cavity->atlas) {
        vug_status status = create(ctx, v, cavity);
        if (status)
            return status;
    }
    while (v->chamber[first].cavity != number)
        first++;
    const vugi_atlas *a = cavity->atlas;
    double cell = v->grid.h;
    int32_t lo[3];
    for (int k = 0; k < 3; k++)
        lo[k] = (int32_t)lround(
            (a->grid.origin[k] - v->grid.origin[k]) / cell - 0.5 * (COARSER - 1));
    for (size_t c = 0; c < vugi_grid_count(&a->grid); c++) {
        vugi_grid_place(&a->grid, c, at);
        for (int n = 0; n < COARSER * COARSER * COARSER; n++) {
            int32_t i = lo[0] + COARSER * at[0] + n % COARSER;
            int32_t j = lo[1] + COARSER * at[1] + n / COARSER % COARSER;
            int32_t k = lo[2] + COARSER * at[2] + n / (COARSER * COARSER);
            if (i >= v->grid.n[0] || j >= v->grid.n[1] || k >= v->grid.n[2])
                continue;
            uint32_t label = v->label[vugi_grid_cell(&v->grid, i, j, k)];
            if (label < v->chamber_count && v->chamber[label].cavity == number)
                a->chamber[c] = (uint8_t)(1 + (int32_t)label - first + offset);
        }
    }
    return VUG_OK;
}

int32_t vugi_atlas_chamber(const vugi_atlas *a, const double point[3])
{
    size_t c = vugi_grid_nearest(&a->grid, point);
    int32_t at[3];
    if (c == SIZE_MAX || a->chamber[c] > 0)
        return c == SIZE_MAX ? -1 : a->chamber[c] - 1;
    vugi_grid_place(&a->grid, c, at);
    for (int n = 0; n < 27; n++) {
        int32_t i = at[0] + n % 3 - 1, j = at[1] + n / 3 % 3 - 1, k = at[2] + n / 9 - 1;
        if (i < 0 || j < 0 || k < 0 || i >= a->grid.n[0] || j >= a->grid.n[1] || k >= a->grid.n[2])
            continue;
        uint8_t there = a->chamber[vugi_grid_cell(&a->grid, i, j, k)];
        if (there > 0)
            return there - 1;
    }
    return -1;
}

vugi_atlas *vugi_atlas_share(vugi_atlas *a)
{
    if (a)
        atomic_fetch_add(&a->owners, 1);
    return a;
}

void vugi_atlas_free(vugi_atlas *a)
{
    if (!a || atomic_fetch_sub(&a->owners, 1) > 1)
        return;
    vugi_allocator mem = a->mem;
    vugi_free(&mem, a->chamber);
    vugi_free(&mem, a);
}
