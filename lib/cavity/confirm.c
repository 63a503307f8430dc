/* SPDX-License-Identifier: MIT */
#include "cavity/confirm.h"

#include <math.h>

/* Counting errs by up to half a cell along the walls, all of them alike in a box. */
static double wall_slack(const vugi_void *v, const vugi_cavity *cavity)
{
    return 0.002 * cavity->volume + 0.5 * v->grid.h * cavity->area;
}

/* What the grid's own cavities may have of the bores, and before them. */
static double bore_slack(const vugi_void *v, const vug_cavities *c, size_t j)
{
    double slack = 0.0;
    for (size_t i = 0; i < c->opening_count; i++)
        if (c->opening[i].cavity == (int32_t)j)
            slack += c->opening[i].area * (c->opening[i].bore_length + 3.0 * v->grid.h);
    return slack;
}

static bool is_of(const vugi_void *v, uint32_t label, const int32_t *of, size_t j)
{
    return label < vugi_label_outside && of[v->chamber[label].cavity] == (int32_t)j;
}

/* What the grid counts in its cavities that cavity j holds, in cells. */
static double count_own(const vugi_void *v, const int32_t *of, size_t j)
{
    double cells = 0.0;
    for (size_t i = 0; i < v->chamber_count; i++)
        if (of[v->chamber[i].cavity] == (int32_t)j)
            cells += (double)v->chamber[i].cells;
    return cells;
}

/* The piece of the grid around a mesh, and the place of its first cell. */
static vugi_grid grid_around(const vugi_grid *grid, const vug_mesh *mesh, int32_t first[3])
{
    vugi_grid piece = {.h = grid->h};
    for (int a = 0; a < 3; a++) {
        double lo = floor((mesh->lo[a] - grid->origin[a]) / grid->h);
        double hi = ceil((mesh->hi[a] - grid->origin[a]) / grid->h);
        first[a] = (int32_t)fmax(0.0, lo);
        piece.n[a] = (int32_t)fmin(grid->n[a] - 1.0, hi) - first[a] + 1;
        piece.origin[a] = grid->origin[a] + first[a] * grid->h;
    }
    return piece;
}

/* Cells that a mesh holds. */
typedef struct held {
    double empty; /* that are void */
    double own;   /* that the grid has in the same cavity */
} held;

static held count_held(const vugi_void *v, const vugi_grid *piece, const int32_t first[3],
    const uint8_t *inside, const int32_t *of, size_t j)
{
    held h = {0.0, 0.0};
    for (int32_t z = 0; z < piece->n[2]; z++) {
        for (int32_t y = 0; y < piece->n[1]; y++) {
            size_t c = vugi_grid_cell(piece, 0, y, z);
            size_t whole = vugi_grid_cell(&v->grid, first[0], first[1] + y, first[2] + z);
            for (int32_t x = 0; x < piece->n[0]; x++, c++, whole++) {
                if (inside[c] != VUGI_SOLID)
                    continue;
                h.empty += v->cell[whole] != VUGI_SOLID;
                h.own += is_of(v, v->label[whole], of, j);
            }
        }
    }
    return h;
}

/* Looks cell by cell. */
static vug_status look_inside(vug_context *ctx, const vugi_void *v, const vug_mesh *mesh,
    const int32_t *of, size_t j, held *out)
{
    int32_t first[3];
    vugi_grid piece = grid_around(&v->grid, mesh, first);
    vugi_sign_report report;
    uint8_t *inside = vugi_alloc(&ctx->mem, vugi_grid_count(&piece), sizeof *inside);
    uint32_t *work = vugi_alloc(&ctx->mem, vugi_grid_count(&piece), sizeof *work);
    vug_status status = VUG_OK;
    if (!inside || !work)
        status = vugi_fail_memory(ctx);
    vugi_range saved = vugi_progress_enter(ctx, 0.95, 0.95, "checking");
    if (!status)
        status = vugi_grid_sign(ctx, mesh, NULL, &piece, inside, work, &report);
    vugi_progress_leave(ctx, saved);
    if (!status)
        *out = count_held(v, &piece, first, inside, of, j);
    vugi_free(&ctx->mem, inside);
    vugi_free(&ctx->mem, work);
    return status;
}

vug_status vugi_void_confirms(vug_context *ctx, const vugi_void *v, const vug_cavities *c, size_t j,
    const int32_t *of, bool *confirmed)
{
    const vugi_cavity *cavity = c->cavity + j;
    const double cell = v->grid.h * v->grid.h * v->grid.h, own = count_own(v, of, j);
    const double wall = wall_slack(v, cavity), slack = wall + bore_slack(v, c, j);
    held h;
    *confirmed = own == 0.0 || fabs(cavity->volume - own * cell) <= slack;
    if (*confirmed)
        return VUG_OK;
    vug_status status = look_inside(ctx, v, cavity->mesh, of, j, &h);
    if (!status)
        *confirmed = fabs(cavity->volume - h.empty * cell) <= wall && (own - h.own) * cell <= slack;
    return status;
}
