/* SPDX-License-Identifier: MIT
 * The distance from a mesh at the cells of a grid, exact near one level. */
#include "shape/hollow/field.h"

#include "base/vec.h"

#include "grid/distance.h"

#include <math.h>
#include <string.h>

/* In cells. A distance between cells differs from that of the surface by half the diagonal of a cell at most, and by
 * as much as the nearest point of a triangle is from its nearest mark: the sign is sure beyond BAND. */
static const double BAND = 1.3;

static const uint32_t NOT_ASKED = UINT32_MAX;

enum { BLOCK = 4096 }; /* triangles */

double vugi_field_above(const vugi_field *field, const double p[3])
{
    return field->floor == -INFINITY ? -INFINITY : field->floor - vugi_dot(field->up, p);
}

double vugi_field_at(const vugi_field *field, const double p[3], uint32_t *triangle,
    double inward[3])
{
    double q[3], d = vugi_tree_nearest_from(field->tree, p, triangle, q);
    double value = field->within ? field->distance - d : d - field->distance;
    double above = vugi_field_above(field, p);
    double sign = field->within ? 1.0 : -1.0;
    for (int k = 0; k < 3; k++)
        inward[k] = above > value ? field->up[k] : d > 0.0 ? sign * (p[k] - q[k]) / d : 0.0;
    return fmax(value, above);
}

/* The eight cells around p. */
static void cells_around(const vugi_grid *g, const double p[3], size_t cell[8])
{
    int32_t at[3];
    for (int a = 0; a < 3; a++)
        at[a] = (int32_t)fmax(0.0, fmin(floor((p[a] - g->origin[a]) / g->h), g->n[a] - 2.0));
    for (int c = 0; c < 8; c++)
        cell[c] = vugi_grid_cell(g, at[0] + (c & 1), at[1] + (c >> 1 & 1), at[2] + (c >> 2));
}

bool vugi_field_lowered(const vugi_field *field, const double p[3])
{
    size_t cell[8];
    if (!field->lowered)
        return false;
    cells_around(&field->grid, p, cell);
    for (int c = 0; c < 8; c++)
        if (field->lowered[cell[c]])
            return true;
    return false;
}

uint32_t vugi_field_near(const vugi_field *field, const double p[3], uint32_t other)
{
    size_t cell[8];
    if (!field->near)
        return other;
    cells_around(&field->grid, p, cell);
    for (int c = 0; c < 8; c++)
        if (field->near[cell[c]] != NOT_ASKED)
            return field->near[cell[c]];
    return other;
}

/* ---- marks: cells that the surface passes ------------------------------------------- */

static void mark_point(const vugi_grid *grid, const double p[3], uint8_t *mark)
{
    size_t c = vugi_grid_nearest(grid, p);
    if (c == SIZE_MAX)
        return;
    vugi_raise(mark + c);
}

/* Points of the triangle no farther apart than half a step of the grid. */
static void mark_triangle(const vugi_field *field, size_t t, uint8_t *mark)
{
    const vug_mesh *mesh = field->tree->mesh;
    const uint32_t *tri = mesh->triangles + 3 * t;
    const double *a = mesh->xyz + 3 * (size_t)tri[0], *b = mesh->xyz + 3 * (size_t)tri[1],
                 *c = mesh->xyz + 3 * (size_t)tri[2];
    double longest = fmax(vugi_point_distance(a, b),
        fmax(vugi_point_distance(b, c), vugi_point_distance(c, a)));
    int32_t steps = 1 + (int32_t)fmin(1e5, 2.0 * longest / field->grid.h);
    for (int32_t i = 0; i <= steps; i++)
        for (int32_t j = 0; i + j <= steps; j++) {
            double s = (double)i / steps, r = (double)j / steps, p[3];
            for (int k = 0; k < 3; k++)
                p[k] = a[k] + s * (b[k] - a[k]) + r * (c[k] - a[k]);
            mark_point(&field->grid, p, mark);
        }
}

/* What the distance is measured from: the surface, and the side of it where the region is not (or, around a
 * body, the body). Without the marks a slit between two cells would not be seen. */
static vug_status mark_all(vug_context *ctx, const vugi_field *field, const uint8_t *body,
    uint8_t *mark)
{
    size_t count = vugi_grid_count(&field->grid), triangles = field->tree->mesh->triangle_count;
    size_t blocks = (triangles + BLOCK - 1) / BLOCK;
#pragma omp parallel for schedule(static) num_threads(vugi_threads(ctx, count))
    for (size_t c = 0; c < count; c++) {
        if (c % 65536 == 0)
            vugi_pulse(ctx, 0.0);
        mark[c] = (body[c] != 0) != field->within;
    }
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(ctx, blocks))
    for (size_t b = 0; b < blocks; b++) {
        if (vugi_pulse(ctx, 0.1 * (double)b / (double)blocks))
            continue;
        for (size_t t = b * BLOCK; t < triangles && t < (b + 1) * BLOCK; t++)
            mark_triangle(field, t, mark);
    }
    return vugi_step(ctx, 0.1);
}

/* ---- values -------------------------------------------------------------------------- */

/* Where distances between cells decide. */
static double value_far(const vugi_field *field, bool side, double near)
{
    double depth = side ? near - field->distance : -field->distance;
    depth = fmax(-1e30, fmin(depth, 1e30));
    return field->within ? -depth : depth;
}

/* What is nearest to the cell before, or to the one in the row before, is likely near this one, too. */
static uint32_t near_cell(const uint32_t *near, size_t nx, size_t i, int32_t j)
{
    if (i > 0 && near[i - 1] != NOT_ASKED)
        return near[i - 1];
    return j > 0 && *(near + i - nx) != NOT_ASKED ? *(near + i - nx) : 0;
}

/* One row along x. In near are squared distances between cells before. */
static void fill_row(vugi_field *field, const uint8_t *body, int32_t j, int32_t k)
{
    const vugi_grid *g = &field->grid;
    size_t first = vugi_grid_cell(g, 0, j, k), nx = (size_t)g->n[0];
    uint32_t *row = field->near + first;
    for (size_t i = 0; i < nx; i++) {
        size_t c = first + i;
        bool side = (body[c] != 0) == field->within;
        double near = row[i] == UINT32_MAX ? INFINITY : g->h * sqrt((double)row[i]);
        double p[3] = {g->origin[0] + g->h * (double)i, g->origin[1] + g->h * j,
            g->origin[2] + g->h * k};
        double above = vugi_field_above(field, p);
        double value = value_far(field, side, near), d = near;
        bool level = fabs(near - field->distance) <= BAND * g->h && above < 2.0 * g->h;
        row[i] = NOT_ASKED;
        if (side && (level || (field->depth && fabs(near - field->deep) <= BAND * g->h))) {
            row[i] = near_cell(row, nx, i, j);
            d = vugi_tree_nearest_from(field->tree, p, row + i, NULL);
            value = field->within ? field->distance - d : d - field->distance;
        }
        field->value[c] = (float)fmax(value, above);
        if (field->depth)
            field->depth[c] = side ? (float)fmin(d, 1e30) : 0.0f;
    }
}

vug_status vugi_field_fill(vug_context *ctx, vugi_field *field, const uint8_t *body)
{
    const vugi_grid *g = &field->grid;
    uint8_t *mark = vugi_alloc(&ctx->mem, vugi_grid_count(g), 1);
    if (!mark)
        return vugi_fail_memory(ctx);
    vug_status status = mark_all(ctx, field, body, mark);
    if (!status) {
        vugi_range saved = vugi_progress_enter(ctx, 0.1, 0.3, NULL);
        status = vugi_distance(ctx, g->n, mark, false, field->near);
        vugi_progress_leave(ctx, saved);
    }
    vugi_free(&ctx->mem, mark);
    if (status)
        return status;
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(ctx, (size_t)g->n[2]))
    for (int32_t k = 0; k < g->n[2]; k++)
        if (!vugi_pulse(ctx, 0.3 + 0.7 * k / g->n[2]))
            for (int32_t j = 0; j < g->n[1]; j++)
                fill_row(field, body, j, k);
    return vugi_step(ctx, 1.0);
}
