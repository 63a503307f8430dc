/* SPDX-License-Identifier: MIT
 * Cavities made of shapes whose spans are known exactly, for tests that need no mesh. */
#ifndef VUG_TEST_SPANS_H
#define VUG_TEST_SPANS_H

#include "column/column.h"
#include "gravity/scene.h"

#include "test.h"

#include <math.h>
#include <stdlib.h>

/* One stretch of a vertical line inside a shape, if it meets it. */
typedef struct solid solid;
struct solid {
    bool (*cut)(const solid *s, double x, double y, double *lo, double *hi);
    double a[6];
};

/* Box: a = x0, x1, y0, y1, z0, z1. */
static inline bool cut_box(const solid *s, double x, double y, double *lo, double *hi)
{
    *lo = s->a[4];
    *hi = s->a[5];
    return x > s->a[0] && x < s->a[1] && y > s->a[2] && y < s->a[3];
}

/* Ball: a = x, y, z, radius. */
static inline bool cut_ball(const solid *s, double x, double y, double *lo, double *hi)
{
    double d = s->a[3] * s->a[3] - (x - s->a[0]) * (x - s->a[0]) - (y - s->a[1]) * (y - s->a[1]);
    double half = sqrt(fmax(0.0, d));
    *lo = s->a[2] - half;
    *hi = s->a[2] + half;
    return d > 0.0;
}

/* Cylinder lying along x: a = x0, x1, y, z, radius. */
static inline bool cut_lying(const solid *s, double x, double y, double *lo, double *hi)
{
    double d = s->a[4] * s->a[4] - (y - s->a[2]) * (y - s->a[2]), half = sqrt(fmax(0.0, d));
    *lo = s->a[3] - half;
    *hi = s->a[3] + half;
    return d > 0.0 && x > s->a[0] && x < s->a[1];
}

/* Upright cone frustum: a = x, y, z0, z1, radius at z0, radius at z1. */
static inline bool cut_frustum(const solid *s, double x, double y, double *lo, double *hi)
{
    double r = hypot(x - s->a[0], y - s->a[1]), r0 = s->a[4], r1 = s->a[5];
    *lo = s->a[2];
    *hi = s->a[3];
    if (r >= fmax(r0, r1))
        return false;
    double z = r0 == r1 ? *lo : s->a[2] + (r - r0) / (r1 - r0) * (s->a[3] - s->a[2]);
    if (r > fmin(r0, r1)) {
        if (r0 < r1)
            *lo = z;
        else
            *hi = z;
    }
    return true;
}

typedef struct stretch {
    double lo, hi;
} stretch;

static inline int by_lo(const void *a, const void *b)
{
    const stretch *x = a, *y = b;
    return (x->lo > y->lo) - (x->lo < y->lo);
}

/* Columns of the union of the shapes, over x0..x1, y0..y1; columns stand at the centres of squares
 * of side h. To be freed with vugi_columns_free(&vugi_default_allocator, ...). */
static inline vugi_columns make_columns(const solid *list, size_t count, double x0, double x1,
    double y0, double y1, double h)
{
    vugi_columns c = {.basis = {1, 0, 0, 0, 1, 0, 0, 0, 1},
        .h = h,
        .x0 = x0 + h / 2,
        .y0 = y0 + h / 2,
        .zlo = INFINITY,
        .zhi = -INFINITY};
    c.nx = (int32_t)lround((x1 - x0) / h);
    c.ny = (int32_t)lround((y1 - y0) / h);
    size_t columns = (size_t)c.nx * (size_t)c.ny;
    stretch *cut = malloc(count * sizeof *cut);
    c.first = malloc((columns + 1) * sizeof *c.first);
    c.lo = malloc(columns * count * sizeof *c.lo);
    c.hi = malloc(columns * count * sizeof *c.hi);
    for (size_t k = 0; k < columns; k++) {
        double x = c.x0 + h * (double)(k % (size_t)c.nx), y = c.y0 + h * (double)(k / (size_t)c.nx);
        size_t n = 0;
        for (size_t i = 0; i < count; i++)
            n += list[i].cut(list + i, x, y, &cut[n].lo, &cut[n].hi) ? 1 : 0;
        qsort(cut, n, sizeof *cut, by_lo);
        c.first[k] = (uint32_t)c.count;
        for (size_t i = 0; i < n; i++) {
            if (c.count > c.first[k] && cut[i].lo <= c.hi[c.count - 1]) {
                c.hi[c.count - 1] = fmax(c.hi[c.count - 1], cut[i].hi);
            } else {
                c.lo[c.count] = cut[i].lo;
                c.hi[c.count++] = cut[i].hi;
            }
        }
        for (size_t i = c.first[k]; i < c.count; i++) {
            c.zlo = fmin(c.zlo, c.lo[i]);
            c.zhi = fmax(c.zhi, c.hi[i]);
        }
    }
    c.first[columns] = (uint32_t)c.count;
    c.body = calloc(c.count + 1, sizeof *c.body);
    free(cut);
    return c;
}

/* Spans within radius of a vertical line, or of a point if z is a number, for a mouth. */
static inline size_t spans_near(const vugi_columns *c, double x, double y, double z, double radius,
    uint32_t **span)
{
    size_t n = 0;
    *span = malloc((c->count + 1) * sizeof **span);
    for (size_t k = 0; k < (size_t)c->nx * (size_t)c->ny; k++) {
        double dx = c->x0 + c->h * (double)(k % (size_t)c->nx) - x;
        double dy = c->y0 + c->h * (double)(k / (size_t)c->nx) - y;
        if (dx * dx + dy * dy > radius * radius)
            continue;
        for (uint32_t s = c->first[k]; s < c->first[k + 1]; s++)
            if (c->lo[s] <= z && z <= c->hi[s])
                (*span)[n++] = s;
    }
    return n;
}

/* A round mouth: an opening whose rim lies between lip and top, about (x, y). */
typedef struct test_mouth {
    double x, y, z, radius, lip, top;
} test_mouth;

/* The scene of the solids in x0..x1, y0..y1, up being +z. */
static inline vugi_scene *make_scene(vug_context *ctx, const solid *list, size_t count, double x0,
    double x1, double y0, double y1, double h, const test_mouth *mouth, size_t mouths)
{
    vugi_columns c = make_columns(list, count, x0, x1, y0, y1, h);
    vugi_scene_mouth m[8] = {{.opening = 0}};
    uint32_t *span[8];
    vugi_opening_span *at[8];
    const double up[3] = {0.0, 0.0, 1.0};
    vugi_scene *scene = NULL;
    for (size_t i = 0; i < mouths; i++) {
        const test_mouth *t = mouth + i;
        m[i] = (vugi_scene_mouth){.opening = (int32_t)i,
            .top = t->top,
            .lip = t->lip,
            .point = {t->x, t->y, t->z},
            .diameter = 2.0 * t->radius,
            .tubes = {1.0, 2.0 * t->radius}};
        m[i].spans = spans_near(&c, t->x, t->y, t->z, t->radius, &span[i]);
        m[i].span = at[i] = calloc(m[i].spans + 1, sizeof **at);
        for (size_t k = 0; k < m[i].spans; k++)
            at[i][k] = (vugi_opening_span){span[i][k], t->top, t->lip};
        ck_assert_uint_gt(m[i].spans, 0);
    }
    ck_ok(ctx,
        vugi_scene_make(ctx, &vugi_default_allocator, &c, up, 0, 0.0, m, mouths, NULL, 0, NULL,
            &scene));
    for (size_t i = 0; i < mouths; i++) {
        free(span[i]);
        free(at[i]);
    }
    return scene;
}

#endif
