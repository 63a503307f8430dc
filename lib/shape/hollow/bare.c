/* SPDX-License-Identifier: MIT
 * Skin with no liquid near behind it, by samples of its triangles. */
#include "shape/hollow/bare.h"

#include "base/vec.h"

#include "grid/distance.h"

#include <math.h>

enum { PARTS_MOST = 4096 };

/* The triangle is cut into parts * parts of one size. */
static size_t parts_of(const vugi_bare *b, size_t t)
{
    double n = ceil(sqrt(2.0 * vugi_triangle_area(b->mesh, t)) / b->grid->h);
    return (size_t)fmax(1.0, fmin(n, PARTS_MOST));
}

static bool count_samples(vugi_bare *b)
{
    for (size_t t = 0; t < b->mesh->triangle_count; t++)
        b->samples += parts_of(b, t) * parts_of(b, t);
    b->first = vugi_calloc(&b->ctx->mem, b->samples, 1);
    return b->first != NULL;
}

/* Distance of p from the nearest cell of liquid, between cells. */
static double far_from_liquid(const vugi_bare *b, const uint32_t *squared, const double p[3])
{
    const vugi_grid *g = b->grid;
    int32_t at[3];
    double part[3], sum = 0.0;
    for (int a = 0; a < 3; a++) {
        double x = (p[a] - g->origin[a]) / g->h;
        at[a] = (int32_t)fmax(0.0, fmin(floor(x), g->n[a] - 2.0));
        part[a] = fmax(0.0, fmin(1.0, x - at[a]));
    }
    for (int c = 0; c < 8; c++) {
        int x = c & 1, y = c >> 1 & 1, z = c >> 2;
        uint32_t d2 = squared[vugi_grid_cell(g, at[0] + x, at[1] + y, at[2] + z)];
        if (d2 == UINT32_MAX)
            return INFINITY;
        sum += (x ? part[0] : 1.0 - part[0]) * (y ? part[1] : 1.0 - part[1])
            * (z ? part[2] : 1.0 - part[2]) * sqrt((double)d2);
    }
    return g->h * (sum - 0.5);
}

/* The middle of part number i of row j: the ones that stand as the triangle does come first in a row. */
static void part_middle(const double *a, const double *b, const double *c, size_t n, size_t j,
    size_t i, double p[3])
{
    size_t upright = n - j;
    bool turned = i >= upright;
    double s = ((double)(turned ? i - upright : i) + (turned ? 2.0 : 1.0) / 3.0) / (double)n;
    double t = ((double)j + (turned ? 2.0 : 1.0) / 3.0) / (double)n;
    for (int k = 0; k < 3; k++)
        p[k] = a[k] + s * (b[k] - a[k]) + t * (c[k] - a[k]);
}

typedef struct look {
    const uint32_t *squared;
    uint8_t *mark;
    bool first;
} look;

/* Returns how many samples of triangle t are bare; *sample is the number of its first, and then of the next one's. */
static size_t look_at(const vugi_bare *b, const look *l, size_t t, size_t n, size_t *sample)
{
    const uint32_t *tri = b->mesh->triangles + 3 * t;
    const double *x = b->mesh->xyz;
    size_t count = 0;
    for (size_t j = 0; j < n; j++)
        for (size_t i = 0; i < 2 * (n - j) - 1; i++, (*sample)++) {
            double p[3];
            part_middle(x + 3 * (size_t)tri[0], x + 3 * (size_t)tri[1], x + 3 * (size_t)tri[2], n,
                j, i, p);
            if (far_from_liquid(b, l->squared, p) <= b->depth)
                continue;
            count++;
            if (l->first)
                b->first[*sample] = 1;
            size_t cell = vugi_grid_nearest(b->grid, p);
            if (l->mark && !b->first[*sample] && cell != SIZE_MAX)
                l->mark[cell] = 1;
        }
    return count;
}

vug_status vugi_bare_measure(vugi_bare *b, const uint8_t *liquid, uint32_t *work, uint8_t *mark,
    double *area)
{
    look l = {.squared = work, .mark = mark, .first = !b->first};
    vug_status status = vugi_distance(b->ctx, b->grid->n, liquid, false, work);
    if (!status && l.first && !count_samples(b))
        status = vugi_fail_memory(b->ctx);
    if (status)
        return status;
    size_t sample = 0;
    *area = 0.0;
    for (size_t t = 0; t < b->mesh->triangle_count; t++) {
        size_t n = parts_of(b, t), bare = look_at(b, &l, t, n, &sample);
        *area += (double)bare * vugi_triangle_area(b->mesh, t) / ((double)n * (double)n);
    }
    return vugi_step(b->ctx, 0.0);
}

void vugi_bare_free(vugi_bare *b)
{
    vugi_free(&b->ctx->mem, b->first);
}
