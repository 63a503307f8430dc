/* SPDX-License-Identifier: MIT
 * Where the cells of a grid are. */
#include "grid/grid.h"

#include <math.h>

/* A fraction of a cell by which the points are shifted, different on each axis. */
static const double shift[3] = {0.0137, 0.0291, 0.0433};

vug_status vugi_grid_fit(vug_context *ctx, const double lo[3], const double hi[3], int32_t cells,
    int32_t margin, vugi_grid *grid)
{
    double longest = 0.0;
    for (int a = 0; a < 3; a++) {
        if (!isfinite(lo[a]) || !isfinite(hi[a]) || hi[a] < lo[a])
            return vugi_fail(ctx, VUG_ERR_ARGUMENT, "grid: bounds %g..%g on axis %d are not a box",
                lo[a], hi[a], a);
        longest = fmax(longest, hi[a] - lo[a]);
    }
    if (!(longest > 0.0) || cells < 1 || margin < 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "grid: %d cells over %g mm", cells, longest);

    vugi_grid own = {.h = longest / cells};
    double total = 1.0;
    for (int a = 0; a < 3; a++) {
        double across = ceil((hi[a] - lo[a]) / own.h - 1e-9) + 1.0 + 2.0 * margin;
        total *= across;
        if (across > VUG_MAX_COLUMNS_ACROSS || total >= 2147483648.0)
            return vugi_fail(ctx, VUG_ERR_LIMIT,
                "grid: %d cells along the longest side are too many; use fewer", cells);
        own.n[a] = (int32_t)across;
        own.origin[a] = 0.5 * (lo[a] + hi[a]) - 0.5 * own.h * (across - 1.0) + shift[a] * own.h;
    }
    *grid = own;
    return VUG_OK;
}

void vugi_grid_place(const vugi_grid *grid, size_t c, int32_t at[3])
{
    size_t nx = (size_t)grid->n[0], ny = (size_t)grid->n[1];
    at[0] = (int32_t)(c % nx);
    at[1] = (int32_t)(c / nx % ny);
    at[2] = (int32_t)(c / nx / ny);
}

void vugi_grid_point(const vugi_grid *grid, size_t c, double point[3])
{
    int32_t at[3];
    vugi_grid_place(grid, c, at);
    for (int a = 0; a < 3; a++)
        point[a] = grid->origin[a] + grid->h * at[a];
}

size_t vugi_grid_nearest(const vugi_grid *grid, const double point[3])
{
    int32_t at[3];
    for (int a = 0; a < 3; a++) {
        double x = floor((point[a] - grid->origin[a]) / grid->h + 0.5);
        if (!(x >= 0.0 && x < grid->n[a]))
            return SIZE_MAX;
        at[a] = (int32_t)x;
    }
    return vugi_grid_cell(grid, at[0], at[1], at[2]);
}
