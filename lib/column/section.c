/* SPDX-License-Identifier: MIT
 * A plane through columns, as rows for drawing. */
#include "column/section.h"

#include "base/vec.h"
#include "column/pose.h"

#include <math.h>

typedef struct section {
    const vugi_columns *c;
    vugi_span_middle middle;
    const void *user;
    double *rows;
    size_t count, capacity;
} section;

static vug_status read_point(vug_context *ctx, const vugi_columns *c, const double point[3],
    double start[3])
{
    for (int k = 0; k < 3; k++)
        if (!(fabs(point[k]) <= VUG_MAX_COORDINATE_MM))
            return vugi_fail(ctx, VUG_ERR_ARGUMENT,
                "point is (%g, %g, %g): it must be finite and within %d mm", point[0], point[1],
                point[2], VUG_MAX_COORDINATE_MM);
    vugi_to_pose(c->basis, point, start);
    return VUG_OK;
}

static vug_status read_direction(vug_context *ctx, const vugi_columns *c, const double direction[3],
    double across[2])
{
    double largest = 0.0, unit[3], at[3];
    for (int k = 0; k < 3; k++) {
        if (!isfinite(direction[k]))
            return vugi_fail(ctx, VUG_ERR_ARGUMENT, "direction is not finite");
        largest = fmax(largest, fabs(direction[k]));
    }
    if (largest == 0.0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "direction is 0: which way to look?");
    for (int k = 0; k < 3; k++)
        unit[k] = direction[k] / largest; /* so that no square is too large or too small */
    vugi_to_pose(c->basis, unit, at);
    double length = hypot(at[0], at[1]);
    if (!(length > 1e-9 * vugi_length(at)))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "direction runs along up: look from the side");
    across[0] = -at[1] / length; /* up x direction: to the viewer's right */
    across[1] = at[0] / length;
    return VUG_OK;
}

/* The steps k (of one spacing each) at which the line start + k h across lies over the grid: *first
 * and how many. Clipped one axis at a time, so that a far point costs nothing. */
static double steps_over_grid(const vugi_columns *c, const double start[2], const double across[2],
    double *first)
{
    const double corner[2] = {c->x0 - 0.5 * c->h, c->y0 - 0.5 * c->h};
    const double width[2] = {c->nx * c->h, c->ny * c->h};
    double from = -INFINITY, to = INFINITY;
    for (int k = 0; k < 2; k++) {
        if (fabs(across[k]) > 1e-12) {
            double a = (corner[k] - start[k]) / across[k], b = a + width[k] / across[k];
            from = fmax(from, fmin(a, b));
            to = fmin(to, fmax(a, b));
        } else if (start[k] < corner[k] || start[k] > corner[k] + width[k]) {
            return 0.0;
        }
    }
    *first = ceil(from / c->h);
    return floor(to / c->h) - *first + 1.0;
}

/* Appends a row for each span of column col. */
static bool add_rows(const vugi_allocator *mem, section *s, size_t col, double distance)
{
    const vugi_columns *c = s->c;
    for (size_t n = c->first[col]; n < c->first[col + 1]; n++) {
        if (!vugi_reserve(mem, &s->rows, &s->capacity, 4 * (s->count + 1), sizeof *s->rows))
            return false;
        double *row = s->rows + 4 * s->count++;
        row[0] = distance;
        row[1] = c->lo[n];
        row[2] = s->middle(s->user, n);
        row[3] = c->hi[n];
    }
    return true;
}

vug_status vugi_columns_section(vug_context *ctx, const vugi_columns *c, const double point[3],
    const double direction[3], vugi_span_middle middle, const void *user, double **rows,
    size_t *row_count)
{
    section s = {.c = c, .middle = middle, .user = user};
    double start[3], across[2], first = 0.0;
    vug_status status = read_direction(ctx, c, direction, across);
    if (status || (status = read_point(ctx, c, point, start)))
        return status;
    double steps = steps_over_grid(c, start, across, &first);
    for (double k = 0.0; k < steps; k += 1.0) {
        double distance = (first + k) * c->h;
        double i = floor((start[0] + distance * across[0] - c->x0) / c->h + 0.5);
        double j = floor((start[1] + distance * across[1] - c->y0) / c->h + 0.5);
        if (!(i >= 0.0 && j >= 0.0 && i < c->nx && j < c->ny))
            continue;
        if (!add_rows(&ctx->mem, &s, (size_t)j * (size_t)c->nx + (size_t)i, distance)) {
            vugi_free(&ctx->mem, s.rows);
            return vugi_fail_memory(ctx);
        }
    }
    *rows = s.rows;
    *row_count = s.count;
    return VUG_OK;
}
