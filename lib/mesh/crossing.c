/* SPDX-License-Identifier: MIT
 * Pairs of triangles in neighbouring buckets, tested by the signs of volumes. */
#include "mesh/crossing.h"

#include "base/vec.h"
#include "mesh/edges.h"
#include "mesh/exact.h"

#include <math.h>
#include <string.h>

static const vugi_crossing_rule FOLDED = {.folded = VUGI_FOLDED, .deep = 0.0};

typedef struct search {
    vug_context *ctx;
    const vug_mesh *mesh;
    double size; /* of a bucket: two triangles that meet have their middles no farther apart */
    int32_t n[3];
    uint32_t *first; /* of each bucket, and past the last */
    uint32_t *order; /* triangles by bucket */
    float *bounds;   /* of each triangle in order: lo and hi, rounded outward */
    const uint8_t *moved;
    bool all;     /* have all vertices moved? */
    uint8_t *bad; /* triangles found */
} search;

static const double *corner(const vug_mesh *mesh, size_t t, int k)
{
    return mesh->xyz + 3 * (size_t)mesh->triangles[3 * t + (size_t)k];
}

static void middle_of(const vug_mesh *mesh, size_t t, double out[3])
{
    for (int a = 0; a < 3; a++)
        out[a] = (corner(mesh, t, 0)[a] + corner(mesh, t, 1)[a] + corner(mesh, t, 2)[a]) / 3.0;
}

static void find_bounds(const vug_mesh *mesh, size_t t, float *bounds)
{
    for (int a = 0; a < 3; a++) {
        double p = corner(mesh, t, 0)[a], q = corner(mesh, t, 1)[a], r = corner(mesh, t, 2)[a];
        double lo = p < q ? p : q, hi = p < q ? q : p;
        bounds[a] = nextafterf((float)(r < lo ? r : lo), -INFINITY);
        bounds[a + 3] = nextafterf((float)(r > hi ? r : hi), INFINITY);
    }
}

/* ---- buckets -------------------------------------------------------------------------- */

static size_t bucket_of(const search *s, size_t t, int32_t at[3])
{
    double p[3];
    middle_of(s->mesh, t, p);
    for (int a = 0; a < 3; a++) {
        double x = floor((p[a] - s->mesh->lo[a]) / s->size);
        at[a] = (int32_t)fmax(0.0, fmin(x, s->n[a] - 1.0));
    }
    return ((size_t)at[2] * (size_t)s->n[1] + (size_t)at[1]) * (size_t)s->n[0] + (size_t)at[0];
}

/* Squared, at the most: from the middle of a triangle to a corner. */
static double widest(const search *s)
{
    const size_t triangles = s->mesh->triangle_count;
    double most = 0.0;
#pragma omp parallel for schedule(static) reduction(max \
                                                    : most) \
    num_threads(vugi_threads(s->ctx, triangles))
    for (size_t t = 0; t < triangles; t++) {
        double p[3];
        if (t % 1024 == 0 && vugi_pulse(s->ctx, 0.0))
            continue;
        middle_of(s->mesh, t, p);
        for (int k = 0; k < 3; k++)
            most = fmax(most, vugi_square_distance(p, corner(s->mesh, t, k)));
    }
    return most;
}

static void choose_size(search *s)
{
    s->size = 2.001 * sqrt(widest(s));
    for (int a = 0; a < 3; a++) /* no more buckets than the memory of the triangles themselves */
        s->size = fmax(s->size, (s->mesh->hi[a] - s->mesh->lo[a]) / 256.0);
    for (int a = 0; a < 3; a++)
        s->n[a] = 1 + (int32_t)((s->mesh->hi[a] - s->mesh->lo[a]) / s->size);
}

static vug_status list_bounds(search *s)
{
    const size_t triangles = s->mesh->triangle_count;
#pragma omp parallel for schedule(static) num_threads(vugi_threads(s->ctx, triangles))
    for (size_t i = 0; i < triangles; i++)
        if (i % 1024 != 0 || !vugi_pulse(s->ctx, 0.0))
            find_bounds(s->mesh, s->order[i], s->bounds + 6 * i);
    return vugi_step(s->ctx, 0.0);
}

static vug_status fill_buckets(search *s)
{
    int32_t at[3];
    size_t buckets = (size_t)s->n[0] * (size_t)s->n[1] * (size_t)s->n[2];
    size_t triangles = s->mesh->triangle_count;
    s->first = vugi_calloc(&s->ctx->mem, buckets + 2, sizeof *s->first);
    s->order = vugi_alloc(&s->ctx->mem, triangles, sizeof *s->order);
    s->bad = vugi_calloc(&s->ctx->mem, triangles, 1);
    s->bounds = vugi_alloc(&s->ctx->mem, triangles, 6 * sizeof *s->bounds);
    if (!s->first || !s->order || !s->bad || !s->bounds)
        return vugi_fail_memory(s->ctx);
    vug_status status = vugi_step(s->ctx, 0.0);
    for (size_t t = 0; t < triangles && !status; t++)
        s->first[bucket_of(s, t, at) + 2]++;
    for (size_t b = 2; b < buckets + 2; b++)
        s->first[b] += s->first[b - 1];
    if (!status)
        status = vugi_step(s->ctx, 0.0);
    for (size_t t = 0; t < triangles && !status; t++)
        s->order[s->first[bucket_of(s, t, at) + 1]++] = (uint32_t)t;
    if (!status)
        status = vugi_step(s->ctx, 0.0);
    return status ? status : list_bounds(s);
}

/* ---- two triangles ------------------------------------------------------------------- */

static bool bounds_meet(const float *s, const float *t)
{
    return s[0] <= t[3] && t[0] <= s[3] && s[1] <= t[4] && t[1] <= s[4] && s[2] <= t[5]
        && t[2] <= s[5];
}

/* Does the segment pq go through the triangle? Its ends have to lie on the two sides of it beyond rounding, and its
 * line must pass all edges on one side, but for one that it may touch: flat pieces side by side leave more open. */
static bool segment_meets(const double *p, const double *q, const double *a, const double *b,
    const double *c)
{
    if (vugi_side(a, b, c, p) * vugi_side(a, b, c, q) >= 0)
        return false;
    int sum = vugi_side(p, q, a, b) + vugi_side(p, q, b, c) + vugi_side(p, q, c, a);
    return sum >= 2 || sum <= -2;
}

/* Do all corners of s lie on one side of the plane of t? Then no edge of s goes through it. */
static bool on_one_side(const vug_mesh *mesh, size_t s, size_t t)
{
    int sum = 0;
    for (int k = 0; k < 3; k++)
        sum += vugi_side(corner(mesh, t, 0), corner(mesh, t, 1), corner(mesh, t, 2),
            corner(mesh, s, k));
    return sum == 3 || sum == -3;
}

/* Does the segment pq, which goes through the triangle, reach so far beyond it on both sides, so far from its edges? */
static bool goes_deep(const double *p, const double *q, const double *const corner_of[3],
    double deep)
{
    double n[3], way[3], at[3];
    vugi_triangle_cross(corner_of[0], corner_of[1], corner_of[2], n);
    vugi_normalise(n);
    vugi_subtract(p, corner_of[0], at);
    vugi_subtract(q, p, way);
    const double before = vugi_dot(n, at), behind = before + vugi_dot(n, way);
    if (!(vugi_lesser(fabs(before), fabs(behind)) > deep))
        return false;
    for (int k = 0; k < 3; k++) {
        double edge[3], in[3], from[3];
        vugi_subtract(corner_of[(k + 1) % 3], corner_of[k], edge);
        vugi_normalise(edge);
        vugi_cross(n, edge, in);
        vugi_along(p, way, before / (before - behind), at);
        vugi_subtract(at, corner_of[k], from);
        if (!(vugi_dot(in, from) > deep))
            return false;
    }
    return true;
}

/* The edges of triangle s, but for those at its corner `but` (-1: all of them). */
static bool edges_meet(const vug_mesh *mesh, size_t s, int but, size_t t, double deep)
{
    const double *const of[3] = {corner(mesh, t, 0), corner(mesh, t, 1), corner(mesh, t, 2)};
    for (int k = 0; k < 3; k++) {
        const double *p = corner(mesh, s, k), *q = corner(mesh, s, (k + 1) % 3);
        if ((but < 0 || (k != but && (k + 1) % 3 != but))
            && segment_meets(p, q, of[0], of[1], of[2])
            && (deep == 0.0 || goes_deep(p, q, of, deep)))
            return true;
    }
    return false;
}

/* Is the cosine of the angle between their normals so low? */
static bool folded(const vug_mesh *mesh, size_t s, size_t t, double cosine)
{
    double m[3], n[3];
    vugi_triangle_cross(corner(mesh, s, 0), corner(mesh, s, 1), corner(mesh, s, 2), m);
    vugi_triangle_cross(corner(mesh, t, 0), corner(mesh, t, 1), corner(mesh, t, 2), n);
    return vugi_dot(m, n) <= cosine * vugi_length(m) * vugi_length(n);
}

/* Does a plane across the way between the middles of two triangles part them, by more than rounding? shared: a corner
 * of both, through which it goes then, or NULL. */
static bool parted(const vug_mesh *mesh, size_t s, size_t t, const double *shared)
{
    double m[3], n[3], along[3], reach = 0.0, lo = INFINITY, hi = -INFINITY;
    middle_of(mesh, s, m);
    middle_of(mesh, t, n);
    vugi_subtract(n, m, along);
    for (int k = 0; k < 3; k++) {
        const double *p = corner(mesh, s, k), *q = corner(mesh, t, k);
        double u[3], v[3];
        vugi_subtract(p, shared ? shared : m, u);
        vugi_subtract(q, shared ? shared : m, v);
        double x = vugi_dot(along, u), y = vugi_dot(along, v);
        hi = p != shared && x > hi ? x : hi;
        lo = q != shared && y < lo ? y : lo;
        reach += vugi_dot(u, u) + vugi_dot(v, v);
    }
    double rounding = 1e-12 * (vugi_dot(along, along) + reach);
    return shared ? hi < -rounding && lo > rounding : hi < lo - rounding;
}

static bool triangles_cross(const vug_mesh *mesh, size_t s, size_t t,
    const vugi_crossing_rule *rule)
{
    const uint32_t *p = mesh->triangles + 3 * s, *q = mesh->triangles + 3 * t;
    int shared = 0, at_s = -1, at_t = -1;
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            if (p[i] == q[j]) {
                shared++;
                at_s = i;
                at_t = j;
            }
    if (shared >= 2)
        return rule->folded >= -1.0 && folded(mesh, s, t, rule->folded);
    if (parted(mesh, s, t, shared ? corner(mesh, s, at_s) : NULL))
        return false;
    if (!shared && (on_one_side(mesh, s, t) || on_one_side(mesh, t, s)))
        return false;
    return edges_meet(mesh, s, at_s, t, rule->deep) || edges_meet(mesh, t, at_t, s, rule->deep);
}

/* Pairs of which neither has moved don't need another look. */
static bool may_cross(const search *s, size_t t)
{
    const uint32_t *tri = s->mesh->triangles + 3 * t;
    return s->moved[tri[0]] || s->moved[tri[1]] || s->moved[tri[2]];
}

static void test_pair(const search *s, size_t i, size_t j)
{
    size_t t = s->order[i], other = s->order[j];
    if (!bounds_meet(s->bounds + 6 * i, s->bounds + 6 * j) || (j < i && may_cross(s, other))
        || !triangles_cross(s->mesh, t, other, &FOLDED))
        return;
    vugi_raise(s->bad + t);
    vugi_raise(s->bad + other);
}

/* Triangles that cross number i in order, or that it crosses, in the buckets around. A pair that both would find is
 * tested once: by the first. */
static void find_crossing(const search *s, size_t i)
{
    int32_t at[3];
    bucket_of(s, s->order[i], at);
    for (int32_t z = at[2] - 1; z <= at[2] + 1; z++)
        for (int32_t y = at[1] - 1; y <= at[1] + 1; y++) {
            if (z < 0 || z >= s->n[2] || y < 0 || y >= s->n[1])
                continue;
            size_t row = ((size_t)z * (size_t)s->n[1] + (size_t)y) * (size_t)s->n[0];
            size_t lo = s->first[row + (size_t)(at[0] > 0 ? at[0] - 1 : 0)];
            size_t hi = s->first[row + (size_t)(at[0] + 1 < s->n[0] ? at[0] + 2 : s->n[0])];
            for (size_t j = s->all && lo <= i ? i + 1 : lo; j < hi; j++)
                if (j != i)
                    test_pair(s, i, j);
        }
}

vug_status vugi_crossing_mark(vug_context *ctx, const vug_mesh *mesh, const uint8_t *moved,
    uint8_t *mark, size_t *count)
{
    search s = {.ctx = ctx,
        .mesh = mesh,
        .moved = moved,
        .all = !memchr(moved, 0, mesh->vertex_count)};
    size_t triangles = mesh->triangle_count;
    choose_size(&s);
    vug_status status = fill_buckets(&s);
    *count = 0;
    if (!status) {
#pragma omp parallel for schedule(dynamic, 1024) num_threads(vugi_threads(ctx, triangles))
        for (size_t i = 0; i < triangles; i++)
            if ((i % 1024 != 0 || !vugi_pulse(ctx, (double)i / (double)triangles))
                && may_cross(&s, s.order[i]))
                find_crossing(&s, i);
        status = vugi_step(ctx, 1.0);
    }
    for (size_t t = 0; t < triangles && !status; t++) {
        for (size_t k = 0; k < 3 && s.bad[t]; k++)
            mark[mesh->triangles[3 * t + k]] = 1;
        *count += s.bad[t];
    }
    vugi_free(&ctx->mem, s.first);
    vugi_free(&ctx->mem, s.order);
    vugi_free(&ctx->mem, s.bad);
    vugi_free(&ctx->mem, s.bounds);
    return status;
}

/* ---- by a tree -------------------------------------------------------------------------- */

typedef struct beside {
    uint32_t *list;
    size_t count, capacity;
} beside;

static bool find_by_tree(const vug_mesh *mesh, const vugi_tree *tree, size_t t,
    const vugi_crossing_rule *rule, beside *near, uint8_t *bad)
{
    double lo[3], hi[3];
    for (int a = 0; a < 3; a++) {
        double p = corner(mesh, t, 0)[a], q = corner(mesh, t, 1)[a], r = corner(mesh, t, 2)[a];
        lo[a] = fmin(p, fmin(q, r));
        hi[a] = fmax(p, fmax(q, r));
    }
    near->count = 0;
    if (!vugi_tree_in_box(tree, lo, hi, &near->list, &near->count, &near->capacity))
        return false;
    for (size_t i = 0; i < near->count; i++)
        if (near->list[i] != t && triangles_cross(mesh, t, near->list[i], rule)) {
            vugi_raise(bad + t);
            vugi_raise(bad + near->list[i]);
        }
    return true;
}

vug_status vugi_crossing_find(vug_context *ctx, const vug_mesh *mesh, const vugi_tree *tree,
    size_t count, const vugi_crossing_rule *rule, uint8_t *bad)
{
    enum { BLOCK = 1024 };
    size_t blocks = (count + BLOCK - 1) / BLOCK;
    uint8_t failed = 0;
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(ctx, blocks))
    for (size_t b = 0; b < blocks; b++) {
        beside near = {.list = NULL};
        size_t end = b + 1 < blocks ? (b + 1) * BLOCK : count;
        if (vugi_pulse(ctx, 0.0))
            continue;
        for (size_t t = b * BLOCK; t < end; t++)
            if (!find_by_tree(mesh, tree, t, rule, &near, bad))
                vugi_raise(&failed);
        vugi_free(&ctx->mem, near.list);
    }
    return failed ? vugi_fail_memory(ctx) : vugi_step(ctx, 0.0);
}
