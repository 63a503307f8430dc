/* SPDX-License-Identifier: MIT
 * A bound below the distance of a whole triangle from a surface, by the distances of a few of its points.
 *
 * A point s of the surface is at least d away from the corners of a triangle. Let r be the radius of the smallest
 * circle around it and p a point of it: then |s - p|^2 >= d^2 - r^2, because the power of p with regard to that
 * circle is a mean of those of the corners, by the weights that make p of them (Leibniz's theorem of weighted
 * squares; in an edge, Stewart's). */
#include "shape/hollow/wall.h"

#include "base/vec.h"

#include <math.h>
#include <string.h>

enum { PUSHES = 8, BLOCK = 1024 };

/* Parts of a step of the grid: what a triangle may lack, and where a push aims at. */
static const double LACK = 0.1, AIM = 0.07;

vug_status vugi_wall_begin(vug_context *ctx, const vugi_tree *outer, double asked,
    const vug_mesh *inner, vugi_inner_wall *wall)
{
    wall->outer = outer;
    wall->asked = asked;
    wall->far = vugi_alloc(&ctx->mem, inner->vertex_count, sizeof *wall->far);
    wall->inward = vugi_alloc(&ctx->mem, inner->vertex_count, 3 * sizeof *wall->inward);
    wall->bound = vugi_alloc(&ctx->mem, inner->triangle_count, sizeof *wall->bound);
    wall->stale = vugi_alloc(&ctx->mem, inner->vertex_count, 1);
    if (!wall->far || !wall->inward || !wall->bound || !wall->stale)
        return vugi_fail_memory(ctx);
    for (size_t v = 0; v < inner->vertex_count; v++)
        vugi_wall_moved(wall, v);
    return VUG_OK;
}

void vugi_wall_end(vug_context *ctx, vugi_inner_wall *wall)
{
    vugi_free(&ctx->mem, wall->far);
    vugi_free(&ctx->mem, wall->inward);
    vugi_free(&ctx->mem, wall->bound);
    vugi_free(&ctx->mem, wall->stale);
}

static void measure_vertex(vugi_inner_wall *wall, const vug_mesh *inner, size_t v,
    uint32_t *triangle)
{
    double q[3];
    const double *p = inner->xyz + 3 * v;
    wall->far[v] = vugi_tree_nearest_from(wall->outer, p, triangle, q);
    vugi_subtract(p, q, wall->inward + 3 * v);
    vugi_normalise(wall->inward + 3 * v);
}

/* Squared radius of the smallest circle around a triangle. */
static double circle2(const double *a, const double *b, const double *c)
{
    double x = vugi_square_distance(a, b), y = vugi_square_distance(b, c),
           z = vugi_square_distance(c, a), n[3];
    double longest = fmax(x, fmax(y, z));
    if (2.0 * longest >= x + y + z) /* blunt or right: half its longest edge */
        return 0.25 * longest;
    vugi_triangle_cross(a, b, c, n);
    return 0.25 * x * y * z / vugi_dot(n, n);
}

static double below(double d, double r2)
{
    return d * d > r2 ? sqrt(d * d - r2) : 0.0;
}

double vugi_wall_below(double corners, const double *a, const double *b, const double *c)
{
    return below(corners, circle2(a, b, c));
}

double vugi_wall_least(double asked, double step)
{
    return asked - LACK * step;
}

/* By the corners alone; if that is too little, by the middles of the edges too: four triangles half as large. */
static double bound_of(const vugi_inner_wall *wall, const vug_mesh *inner, size_t t,
    uint32_t *triangle)
{
    const uint32_t *tri = inner->triangles + 3 * t;
    const double *p[3], *far = wall->far;
    double mid[3];
    for (int k = 0; k < 3; k++)
        p[k] = inner->xyz + 3 * (size_t)tri[k];
    double corners = fmin(far[tri[0]], fmin(far[tri[1]], far[tri[2]]));
    double r2 = circle2(p[0], p[1], p[2]), bound = below(corners, r2);
    if (bound >= vugi_wall_least(wall->asked, wall->step))
        return bound;
    for (int k = 0; k < 3; k++) {
        for (int a = 0; a < 3; a++)
            mid[a] = 0.5 * (p[k][a] + p[(k + 1) % 3][a]);
        corners = fmin(corners, vugi_tree_nearest_from(wall->outer, mid, triangle, NULL));
    }
    return below(corners, 0.25 * r2);
}

static void measure_vertices(vugi_inner_wall *wall, const vug_mesh *inner, size_t from, size_t to)
{
    uint32_t triangle = 0;
    for (size_t v = from; v < to; v++)
        if (wall->far[v] < 0.0)
            measure_vertex(wall, inner, v, &triangle);
}

static void bound_triangles(vugi_inner_wall *wall, const vug_mesh *inner, size_t from, size_t to)
{
    uint32_t triangle = 0;
    for (size_t t = from; t < to; t++) {
        const uint32_t *tri = inner->triangles + 3 * t;
        if (wall->stale[tri[0]] || wall->stale[tri[1]] || wall->stale[tri[2]])
            wall->bound[t] = bound_of(wall, inner, t, &triangle);
    }
}

/* By blocks, for each of which a search begins anew: the same for any number of threads. */
static void each_block(vug_context *ctx, vugi_inner_wall *wall, const vug_mesh *inner, size_t count,
    void (*measure)(vugi_inner_wall *, const vug_mesh *, size_t, size_t))
{
    size_t blocks = (count + BLOCK - 1) / BLOCK;
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(ctx, blocks))
    for (size_t b = 0; b < blocks; b++)
        if (!vugi_pulse(ctx, 0.0))
            measure(wall, inner, b * BLOCK, b + 1 < blocks ? (b + 1) * BLOCK : count);
}

static vug_status measure(vug_context *ctx, vugi_inner_wall *wall, const vug_mesh *inner)
{
    each_block(ctx, wall, inner, inner->vertex_count, measure_vertices);
    each_block(ctx, wall, inner, inner->triangle_count, bound_triangles);
    return vugi_step(ctx, 0.0);
}

/* Each vertex goes as far inward as the worst of its triangles lacks. Returns how many triangles lack. */
static size_t push(vugi_inner_wall *wall, vug_mesh *inner, double *lack, uint8_t *moved)
{
    size_t thin = 0;
    memset(lack, 0, inner->vertex_count * sizeof *lack);
    memset(wall->stale, 0, inner->vertex_count);
    wall->least = INFINITY;
    for (size_t t = 0; t < inner->triangle_count; t++) {
        wall->least = fmin(wall->least, wall->bound[t]);
        if (wall->bound[t] >= vugi_wall_least(wall->asked, wall->step))
            continue;
        thin++;
        for (size_t k = 3 * t; k < 3 * t + 3; k++) {
            double *l = lack + inner->triangles[k];
            *l = fmax(*l, wall->asked - AIM * wall->step - wall->bound[t]);
        }
    }
    for (size_t v = 0; v < inner->vertex_count; v++)
        if (lack[v] > 0.0) {
            vugi_along(inner->xyz + 3 * v, wall->inward + 3 * v, lack[v], inner->xyz + 3 * v);
            vugi_wall_moved(wall, v);
            moved[v] = 1;
        }
    return thin;
}

vug_status vugi_wall_thicken(vug_context *ctx, vugi_inner_wall *wall, vug_mesh *inner,
    uint8_t *moved, size_t *thin)
{
    double *lack = vugi_alloc(&ctx->mem, inner->vertex_count, sizeof *lack);
    vug_status status = lack ? VUG_OK : vugi_fail_memory(ctx);
    *thin = 1;
    for (int i = 0; i < PUSHES && *thin && !status; i++) {
        status = measure(ctx, wall, inner);
        if (!status)
            *thin = push(wall, inner, lack, moved);
    }
    vugi_free(&ctx->mem, lack);
    return status;
}
