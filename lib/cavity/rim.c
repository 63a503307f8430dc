/* SPDX-License-Identifier: MIT
 * Openings in a pose: the heights of their rims, and the columns that touch them. */
#include "cavity/rim.h"

#include "base/vec.h"
#include "cavity/cavity.h"

#include "column/pose.h"
#include "column/raster.h"

#include <assert.h>
#include <float.h>
#include <math.h>

void vugi_opening_outer_rim(const vugi_opening *o, const double up[3], double *top, double *lip)
{
    *top = -INFINITY;
    *lip = INFINITY;
    for (size_t i = 0; i < o->outline_count; i++) {
        const double *p = o->outline + 3 * i;
        double z = vugi_dot(p, up);
        *top = fmax(*top, z);
        *lip = fmin(*lip, z);
    }
}

void vugi_opening_rim(const vugi_opening *o, const double up[3], double *top, double *lip)
{
    double inner = 0.0, tilt = 0.0;
    vugi_opening_outer_rim(o, up, top, lip);
    for (int k = 0; k < 3; k++) {
        inner += o->inner[k] * up[k];
        tilt += o->axis[k] * up[k];
    }
    double rise = o->inscribed_radius * sqrt(fmax(0.0, 1.0 - tilt * tilt));
    *top = fmin(*top, inner + rise);
    *lip = fmax(*lip, inner - rise);
}

static double outline_reach(const vugi_opening *o)
{
    double reach2 = 0.0;
    for (size_t i = 0; i < o->outline_count; i++) {
        const double *p = o->outline + 3 * i;
        double x = p[0] - o->center[0], y = p[1] - o->center[1], z = p[2] - o->center[2];
        reach2 = fmax(reach2, x * x + y * y + z * z);
    }
    return sqrt(reach2);
}

typedef struct column_box {
    int32_t i0, i1, j0, j1;
} column_box;

/* The columns that a round bar from point p along a (pose frame) may meet. */
static column_box columns_over(const vugi_columns *c, const double p[3], const double a[3],
    double length, double r)
{
    double xa = fmin(p[0], p[0] + length * a[0]) - r, xb = fmax(p[0], p[0] + length * a[0]) + r;
    double ya = fmin(p[1], p[1] + length * a[1]) - r, yb = fmax(p[1], p[1] + length * a[1]) + r;
    return (column_box){
        .i0 = (int32_t)fmax(0.0, ceil((xa - c->x0) / c->h)),
        .i1 = (int32_t)fmin(c->nx - 1.0, floor((xb - c->x0) / c->h)),
        .j0 = (int32_t)fmax(0.0, ceil((ya - c->y0) / c->h)),
        .j1 = (int32_t)fmin(c->ny - 1.0, floor((yb - c->y0) / c->h)),
    };
}

/* Marks spans of the opening's cavity that meet a round bar from point p along a (pose frame). */
static bool collect(const vugi_allocator *mem, const vugi_columns *c, int32_t body,
    const double p[3], const double a[3], double length, double r, uint32_t **span, size_t *count,
    size_t *capacity)
{
    assert(r >= 0.0 && length >= 0.0);
    column_box box = columns_over(c, p, a, length, r);
    for (int32_t j = box.j0; j <= box.j1; j++) {
        for (int32_t i = box.i0; i <= box.i1; i++) {
            double lo, hi;
            size_t col = (size_t)j * (size_t)c->nx + (size_t)i;
            if (!vugi_line_in_bar(c->x0 + i * c->h, c->y0 + j * c->h, p, a, length, r, &lo, &hi))
                continue;
            for (size_t s = c->first[col]; s < c->first[col + 1]; s++) {
                if (c->body[s] != body || c->lo[s] > hi || c->hi[s] < lo)
                    continue;
                if (!vugi_reserve(mem, span, capacity, *count + 1, sizeof **span))
                    return false;
                (*span)[(*count)++] = (uint32_t)s;
            }
        }
    }
    return true;
}

/* The span of the cavity that comes nearest to a point, for an opening finer than the columns. */
static bool nearest(const vugi_columns *c, int32_t body, const double p[3], uint32_t *span)
{
    double best = DBL_MAX;
    for (int32_t j = 0; j < c->ny; j++) {
        for (int32_t i = 0; i < c->nx; i++) {
            size_t col = (size_t)j * (size_t)c->nx + (size_t)i;
            double dx = c->x0 + i * c->h - p[0], dy = c->y0 + j * c->h - p[1];
            if (dx * dx + dy * dy >= best)
                continue;
            for (size_t s = c->first[col]; s < c->first[col + 1]; s++) {
                double dz = fmax(0.0, fmax(c->lo[s] - p[2], p[2] - c->hi[s]));
                double d2 = dx * dx + dy * dy + dz * dz;
                if (c->body[s] == body && d2 < best) {
                    best = d2;
                    *span = (uint32_t)s;
                }
            }
        }
    }
    return best < DBL_MAX;
}

vug_status vugi_opening_spans(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, size_t index, const vugi_columns *c, uint32_t **span,
    size_t *count)
{
    const vugi_opening *o = cavities->opening + index;
    double cap[3], inner[3], inward[3], minus[3], reach = outline_reach(o), depth = 1.5 * c->h;
    size_t capacity = 0;
    *span = NULL;
    *count = 0;
    for (int k = 0; k < 3; k++)
        minus[k] = -o->axis[k];
    vugi_to_pose(c->basis, o->center, cap);
    vugi_to_pose(c->basis, o->inner, inner);
    vugi_to_pose(c->basis, minus, inward);
    bool ok = collect(mem, c, o->cavity, cap, inward, depth, reach, span, count, &capacity)
        && collect(mem, c, o->cavity, inner, inward, depth, o->inscribed_radius, span, count,
            &capacity);
    if (ok && *count == 0) {
        uint32_t s = 0;
        if (nearest(c, o->cavity, inner, &s)) {
            ok = vugi_reserve(mem, span, &capacity, 1, sizeof **span);
            if (ok)
                (*span)[(*count)++] = s;
        }
    }
    if (ok)
        return VUG_OK;
    vugi_free(mem, *span);
    *span = NULL;
    return vugi_fail_memory(ctx);
}

void vugi_opening_clear_bore(const vugi_opening *o, const double up[3], const vugi_columns *c,
    double *level)
{
    double start[3], p[3], a[3], inward[3], rim, lip;
    double r = 1.001 * outline_reach(o), extra = 0.01 * r; /* both with room for rounding */
    vugi_opening_outer_rim(o, up, &rim, &lip);
    for (size_t i = 0; i < o->outline_count; i++) { /* an oblique cap reaches beyond its centre */
        double out = 0.0;
        for (int k = 0; k < 3; k++)
            out += (o->outline[3 * i + (size_t)k] - o->center[k]) * o->axis[k];
        extra = fmax(extra, out + 0.01 * r);
    }
    for (int k = 0; k < 3; k++) {
        start[k] = o->center[k] + extra * o->axis[k];
        inward[k] = -o->axis[k];
    }
    vugi_to_pose(c->basis, start, p);
    vugi_to_pose(c->basis, inward, a);
    double length = extra + o->bore_length;
    column_box box = columns_over(c, p, a, length, r);
    for (int32_t j = box.j0; j <= box.j1; j++) {
        for (int32_t i = box.i0; i <= box.i1; i++) {
            double lo, hi;
            size_t col = (size_t)j * (size_t)c->nx + (size_t)i;
            if (!vugi_line_in_bar(c->x0 + i * c->h, c->y0 + j * c->h, p, a, length, r, &lo, &hi))
                continue;
            for (size_t s = c->first[col]; s < c->first[col + 1]; s++)
                if (c->body[s] == o->cavity && c->hi[s] <= hi && c->hi[s] >= lo)
                    level[s] = fmax(level[s], fmin(c->hi[s], rim));
        }
    }
}
