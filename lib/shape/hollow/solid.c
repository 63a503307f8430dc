/* SPDX-License-Identifier: MIT
 * Places of the solid far from the cavity, on a grid half as fine. */
#include "shape/hollow/solid.h"

#include "base/sort.h"
#include "base/vec.h"

#include "grid/distance.h"
#include "grid/sign.h"

#include "shape/hollow/region.h"

#include <math.h>
#include <string.h>

typedef struct spots {
    vug_context *ctx;
    vugi_field field; /* its value: how far a cell is from the skin, below 0 */
    const vugi_field *skin;
    const uint8_t *in;
    double wall;
    uint8_t *cell;
    uint32_t *work;
    double *row;
    size_t count, room;
    bool no_memory;
} spots;

static bool make_grid(spots *s)
{
    const vugi_grid *g = &s->skin->grid;
    s->field.grid.h = 2.0 * g->h;
    for (int a = 0; a < 3; a++) {
        s->field.grid.n[a] = (g->n[a] + 1) / 2;
        s->field.grid.origin[a] = g->origin[a];
    }
    size_t count = vugi_grid_count(&s->field.grid);
    s->cell = vugi_alloc(&s->ctx->mem, count, 1);
    s->work = vugi_alloc(&s->ctx->mem, count, sizeof *s->work);
    s->field.value = vugi_alloc(&s->ctx->mem, count, sizeof *s->field.value);
    return s->cell && s->work && s->field.value;
}

/* Distance of each cell from the skin into value; the cells of the solid into cell. */
static vug_status measure_skin(spots *s)
{
    const vugi_grid *g = &s->field.grid;
    vugi_sign_report report;
    vug_status status = vugi_grid_sign(s->ctx, s->skin->tree->mesh, NULL, g, s->cell, s->work,
        &report);
    if (status)
        return status;
    for (size_t c = 0, count = vugi_grid_count(g); c < count; c++)
        s->cell[c] = s->cell[c] == VUGI_SOLID;
    status = vugi_distance(s->ctx, g->n, s->cell, true, s->work);
    for (size_t c = 0, count = vugi_grid_count(g); c < count && !status; c++)
        s->field.value[c] = (float)(-g->h * sqrt((double)s->work[c]));
    return status;
}

/* Leaves in cell those of the solid that are far from the cavity. */
static vug_status find_far(spots *s)
{
    const vugi_grid *g = &s->field.grid, *fine = &s->skin->grid;
    size_t count = vugi_grid_count(g);
    uint8_t *cavity = vugi_alloc(&s->ctx->mem, count, 1);
    if (!cavity)
        return vugi_fail_memory(s->ctx);
    for (size_t c = 0; c < count; c++) {
        int32_t at[3];
        vugi_grid_place(g, c, at);
        cavity[c] = s->in[vugi_grid_cell(fine, 2 * at[0], 2 * at[1], 2 * at[2])];
    }
    vug_status status = vugi_distance(s->ctx, g->n, cavity, false, s->work);
    vugi_free(&s->ctx->mem, cavity);
    double most = 2.0 * s->wall / g->h + 1.0;
    for (size_t c = 0; c < count && !status; c++) {
        double p[3];
        vugi_grid_point(g, c, p);
        if (sqrt((double)s->work[c]) <= most || vugi_field_above(s->skin, p) > 0.0)
            s->cell[c] = 0;
    }
    return status;
}

static bool keep_spot(const vugi_piece *piece, void *user)
{
    spots *s = user;
    double volume = (double)piece->cells * pow(s->field.grid.h, 3.0);
    if (volume < pow(s->wall, 3.0))
        return false;
    if (!vugi_reserve(&s->ctx->mem, &s->row, &s->room, VUGI_SPOT_NUMBERS * (s->count + 1),
            sizeof *s->row)) {
        s->no_memory = true;
        return false;
    }
    double *row = s->row + VUGI_SPOT_NUMBERS * s->count++;
    memcpy(row, piece->place, sizeof piece->place);
    row[3] = 2.0 * piece->depth;
    row[4] = volume;
    return true;
}

static int larger_first(const void *left, const void *right, const void *user)
{
    const double *a = left, *b = right;
    (void)user;
    return (a[4] < b[4]) - (a[4] > b[4]);
}

vug_status vugi_solid_spots(vug_context *ctx, const vugi_field *skin, double wall,
    const uint8_t *in, double **rows, size_t *row_count)
{
    spots s = {.ctx = ctx, .skin = skin, .in = in, .wall = wall};
    size_t kept, dropped;
    s.field = (vugi_field){.tree = skin->tree, .within = true, .floor = -INFINITY};
    vug_status status = make_grid(&s) ? measure_skin(&s) : vugi_fail_memory(ctx);
    if (!status)
        status = find_far(&s);
    if (!status)
        status = vugi_region_pieces(ctx, &s.field, s.cell, keep_spot, &s, &kept, &dropped);
    if (!status
        && (s.no_memory
            || !vugi_sort(&ctx->mem, s.row, s.count, VUGI_SPOT_NUMBERS * sizeof *s.row,
                larger_first, NULL)))
        status = vugi_fail_memory(ctx);
    vugi_free(&ctx->mem, s.cell);
    vugi_free(&ctx->mem, s.work);
    vugi_free(&ctx->mem, s.field.value);
    if (status) {
        vugi_free(&ctx->mem, s.row);
        return status;
    }
    *rows = s.row;
    *row_count = s.count;
    return VUG_OK;
}
