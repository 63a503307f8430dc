/* SPDX-License-Identifier: MIT
 * The distance from a mesh at the cells of a grid, exact near one level. */
#include "shape/hollow/field.h"

#include "base/vec.h"

#include "grid/distance.h"

#include <math.h>
#include <string.h>

/* In cells. A distance between cells differs from that of the surface by half the diagonal of a cell at most, and by
 * as much as the nearest point of a triangle is from its nearest mark: the sign is sure beyond BAND. OFF: a guess
 * from above. */
static const double OFF = 1.5, BAND = 1.3;

double vugi_field_distance(const vugi_field *field, const double p[3], double most,
    double nearest[3])
{
    double d = vugi_tree_nearest(field->tree, p, most, nearest, NULL);
    return d == INFINITY ? vugi_tree_nearest(field->tree, p, INFINITY, nearest, NULL) : d;
}

double vugi_field_above(const vugi_field *field, const double p[3])
{
    return field->floor == -INFINITY ? -INFINITY : field->floor - vugi_dot(field->up, p);
}

double vugi_field_at(const vugi_field *field, const double p[3], double most, double inward[3])
{
    double q[3], d = vugi_field_distance(field, p, most, q);
    double value = field->within ? field->distance - d : d - field->distance;
    double above = vugi_field_above(field, p);
    double sign = field->within ? 1.0 : -1.0;
    for (int k = 0; k < 3; k++)
        inward[k] = above > value ? field->up[k] : d > 0.0 ? sign * (p[k] - q[k]) / d : 0.0;
    return fmax(value, above);
}

bool vugi_field_lowered(const vugi_field *field, const double p[3])
{
    const vugi_grid *g = &field->grid;
    int32_t at[3];
    if (!field->lowered)
        return false;
    for (int a = 0; a < 3; a++)
        at[a] = (int32_t)fmax(0.0, fmin(floor((p[a] - g->origin[a]) / g->h), g->n[a] - 2.0));
    for (int c = 0; c < 8; c++)
        if (field->lowered[vugi_grid_cell(g, at[0] + (c & 1), at[1] + (c >> 1 & 1),
                at[2] + (c >> 2))])
            return true;
    return false;
}

/* ---- marks: cells that the surface passes ------------------------------------------- */

static void mark_point(const vugi_grid *grid, const double p[3], uint8_t *mark)
{
    size_t c = vugi_grid_nearest(grid, p);
    if (c != SIZE_MAX)
        mark[c] = 1;
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
    for (size_t c = 0; c < count; c++)
        mark[c] = (body[c] != 0) != field->within;
    for (size_t t = 0; t < triangles; t++) {
        mark_triangle(field, t, mark);
        if (t % 65536 == 0) {
            vug_status status = vugi_step(ctx, 0.1 * (double)t / (double)triangles);
            if (status)
                return status;
        }
    }
    return VUG_OK;
}

/* ---- values -------------------------------------------------------------------------- */

/* Where distances between cells decide. */
static double value_far(const vugi_field *field, bool side, double near)
{
    double depth = side ? near - field->distance : -field->distance;
    depth = fmax(-1e30, fmin(depth, 1e30));
    return field->within ? -depth : depth;
}

/* One row along x. The last exact distance bounds the next one. */
static void fill_row(vugi_field *field, const uint8_t *body, const uint32_t *squared, int32_t j,
    int32_t k)
{
    const vugi_grid *g = &field->grid;
    size_t first = vugi_grid_cell(g, 0, j, k);
    double last = INFINITY;
    for (int32_t i = 0; i < g->n[0]; i++) {
        size_t c = first + (size_t)i;
        bool side = (body[c] != 0) == field->within;
        double near = squared[c] == UINT32_MAX ? INFINITY : g->h * sqrt((double)squared[c]);
        double p[3] = {g->origin[0] + g->h * i, g->origin[1] + g->h * j, g->origin[2] + g->h * k};
        double above = vugi_field_above(field, p);
        double value = value_far(field, side, near), d = near;
        bool level = fabs(near - field->distance) <= BAND * g->h && above < 2.0 * g->h;
        if (side && (level || (field->depth && fabs(near - field->deep) <= BAND * g->h))) {
            d = vugi_field_distance(field, p, fmin(near + OFF * g->h, last), NULL);
            last = d + 1.001 * g->h;
            value = field->within ? field->distance - d : d - field->distance;
        } else {
            last = INFINITY;
        }
        field->value[c] = (float)fmax(value, above);
        if (field->depth)
            field->depth[c] = side ? (float)fmin(d, 1e30) : 0.0f;
    }
}

vug_status vugi_field_fill(vug_context *ctx, vugi_field *field, const uint8_t *body, uint32_t *work)
{
    const vugi_grid *g = &field->grid;
    uint8_t *mark = vugi_alloc(&ctx->mem, vugi_grid_count(g), 1);
    if (!mark)
        return vugi_fail_memory(ctx);
    vug_status status = mark_all(ctx, field, body, mark);
    if (!status) {
        vugi_range saved = vugi_progress_enter(ctx, 0.1, 0.3, NULL);
        status = vugi_distance(ctx, g->n, mark, false, work);
        vugi_progress_leave(ctx, saved);
    }
    vugi_free(&ctx->mem, mark);
    if (status)
        return status;
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(ctx, (size_t)g->n[2]))
    for (int32_t k = 0; k < g->n[2]; k++)
        if (!vugi_pulse(ctx, 0.3 + 0.7 * k / g->n[2]))
            for (int32_t j = 0; j < g->n[1]; j++)
                fill_row(field, body, work, j, k);
    return vugi_step(ctx, 1.0);
}
