/* SPDX-License-Identifier: MIT
 * Wall thickness by inscribed balls. */
#include "cavity/thickness.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "base/vec.h"
#include "cavity/cavity.h"
#include "cavity/skin.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { SHRINKS = 32 };

/* A wall is opposite when it faces the way we look within 70 degrees: the other side of an edge of the
 * skin is not, but the other face of a wedge is. */
static const double OPPOSITE = 0.34;

/* A wall that the ball touches less than 47 degrees around from the skin lies beside it: the skin's own
 * next fold. 0.4 = sin(47 degrees / 2). */
static const double BESIDE = 0.4;

/* Walls lie in one place when they are apart by no more than this share of the part's diagonal: what
 * single precision, in which parts are written, leaves of a length is 6e-8. */
static const double COINCIDENT = 1e-6;

/* Ball tangent to the skin at point: starts as wide as the straight way to the opposite wall, and
 * shrinks to each wall that is found inside it. */
double vugi_thickness_of(const vugi_tree *tree, const double point[3], const double inward[3])
{
    const vug_mesh *mesh = tree->mesh;
    double size = vugi_point_distance(mesh->hi, mesh->lo);
    /* A little aslant: straight, a ray between like walls slips through between two triangles. */
    const double aslant[3] = {inward[0] + 0.8e-3, inward[1] - 0.5e-3, inward[2] + 0.3e-3};
    double r = 0.501 * fmin(size, vugi_tree_ray(tree, point, aslant, 1e-6 * size, NULL));
    for (int i = 0; i < SHRINKS; i++) {
        double c[3], q[3], along = 0.0, square = 0.0;
        for (int k = 0; k < 3; k++)
            c[k] = point[k] + r * inward[k];
        double d = vugi_tree_nearest_facing(tree, c, (1.0 - 1e-3) * r, inward, OPPOSITE, q, NULL);
        if (d == INFINITY)
            break;
        for (int k = 0; k < 3; k++) {
            along += (q[k] - point[k]) * inward[k];
            square += (q[k] - point[k]) * (q[k] - point[k]);
        }
        double smaller = along > 0.0 ? 0.5 * square / along : 0.0;
        if (!(along > BESIDE * sqrt(square)) || smaller >= r)
            break;
        r = smaller;
    }
    return 2.0 * r;
}

/* Does another wall lie where the skin does, back to back with it? At a vertex its own triangles do not
 * count: the two faces of a blade meet in its edge. */
static bool wall_in_place(const vug_thickness *t, size_t i)
{
    const vug_mesh *mesh = t->mesh;
    const vugi_skin_sample *s = t->sample + i;
    double slack = COINCIDENT * vugi_point_distance(mesh->hi, mesh->lo);
    uint32_t triangle = 0;
    if (vugi_tree_nearest_facing(&t->tree, s->point, slack, s->inward, OPPOSITE, NULL, &triangle)
        == INFINITY)
        return false;
    for (size_t k = 0; k < 3; k++)
        if (t->of_vertex[mesh->triangles[3 * (size_t)triangle + k]] == i)
            return false;
    return true;
}

static double thickness_of_sample(const vug_thickness *t, size_t i)
{
    const vugi_skin_sample *s = t->sample + i;
    return wall_in_place(t, i) ? 0.0 : vugi_thickness_of(&t->tree, s->point, s->inward);
}

static vug_status measure_all(vug_context *ctx, vug_thickness *t)
{
    enum { BLOCK = 64 };
    size_t blocks = (t->count + BLOCK - 1) / BLOCK;
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(ctx, blocks))
    for (size_t b = 0; b < blocks; b++) {
        if (vugi_pulse(ctx, 0.2 + 0.8 * (double)b / (double)blocks))
            continue;
        for (size_t i = b * BLOCK; i < (b + 1) * BLOCK && i < t->count; i++)
            t->sample[i].thickness = thickness_of_sample(t, i);
    }
    return vugi_step(ctx, 1.0);
}

static vug_status check(vug_context *ctx, const vug_mesh *mesh, double *spacing)
{
    double diagonal = vugi_point_distance(mesh->hi, mesh->lo);
    if (!(*spacing >= 0.0) || !isfinite(*spacing))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "spacing_mm is %g, it must be 0 or more", *spacing);
    if (!(diagonal > 0.0))
        return vugi_fail(ctx, VUG_ERR_MESH, "the mesh is a single point");
    if (*spacing == 0.0)
        *spacing = diagonal / 64.0;
    if (*spacing < 1e-4 * diagonal)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "spacing_mm is %g, it must be at least %g here",
            *spacing, 1e-4 * diagonal);
    return VUG_OK;
}

static vug_status expect_memory(vug_context *ctx, const vug_mesh *mesh,
    const vug_cavities *cavities, double spacing)
{
    if (!vugi_memory_limited(ctx))
        return VUG_OK;
    double of_vertices = (double)mesh->vertex_count * (sizeof(uint32_t) + sizeof(double));
    return vugi_expect_memory(ctx,
        of_vertices + vugi_tree_bytes(mesh->triangle_count)
            + vugi_skin_bytes(mesh, cavities, spacing),
        "measuring walls at such a spacing");
}

vug_status vug_thickness_measure(vug_context *ctx, const vug_mesh *mesh,
    const vug_cavities *cavities, double spacing_mm, vug_thickness **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!mesh || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "mesh or out is NULL");
    vugi_progress_begin(ctx, "wall thickness");
    vug_status status = check(ctx, mesh, &spacing_mm);
    if (!status)
        status = expect_memory(ctx, mesh, cavities, spacing_mm);
    if (status)
        return status;
    vug_thickness *t = vugi_calloc(&ctx->mem, 1, sizeof *t);
    if (!t)
        return vugi_fail_memory(ctx);
    t->mem = ctx->mem;
    t->mesh = vugi_mesh_share(mesh);
    t->of_vertex = vugi_alloc(&t->mem, mesh->vertex_count, sizeof *t->of_vertex);
    t->vertex = vugi_alloc(&t->mem, mesh->vertex_count, sizeof *t->vertex);
    status = t->of_vertex && t->vertex ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_tree_build(ctx, t->mesh, &t->tree);
    if (!status)
        status = vugi_step(ctx, 0.1);
    if (!status)
        status = vugi_skin_sample_mesh(ctx, cavities, spacing_mm, t);
    if (!status)
        status = measure_all(ctx, t);
    if (status) {
        vug_thickness_free(t);
        return status;
    }
    for (size_t v = 0; v < mesh->vertex_count; v++)
        t->vertex[v] = t->of_vertex[v] == UINT32_MAX ? -1.0 : t->sample[t->of_vertex[v]].thickness;
    *out = t;
    return VUG_OK;
}

void vug_thickness_free(vug_thickness *t)
{
    if (!t)
        return;
    vugi_allocator mem = t->mem;
    vugi_tree_free(&t->tree);
    vug_mesh_free(t->mesh);
    vugi_free(&mem, t->sample);
    vugi_free(&mem, t->of_vertex);
    vugi_free(&mem, t->vertex);
    vugi_free(&mem, t);
}

const double *vug_thickness_vertices(const vug_thickness *t)
{
    return t ? t->vertex : NULL;
}

/* ---- statistics ------------------------------------------------------------------ */

double vugi_thick_percentile(const vugi_thick *sorted, size_t count, double area, double part)
{
    assert(count > 0);
    double sum = 0.0;
    for (size_t i = 0; i < count; i++) {
        sum += sorted[i].area;
        if (sum >= part * area)
            return sorted[i].mm;
    }
    return sorted[count - 1].mm;
}

static vug_status take_percentiles(const vug_thickness *t, vugi_thick *list, size_t count,
    double area, vug_thickness_info *info)
{
    if (count == 0) { /* nothing but walls in one place */
        info->min_mm = 0.0;
        memcpy(info->min_at_mm, info->coincident_at_mm, sizeof info->min_at_mm);
        return VUG_OK;
    }
    if (!vugi_sort(&t->mem, list, count, sizeof *list, vugi_by_number, NULL))
        return VUG_ERR_MEMORY;
    info->p1_mm = vugi_thick_percentile(list, count, area, 0.01);
    info->p5_mm = vugi_thick_percentile(list, count, area, 0.05);
    info->p50_mm = vugi_thick_percentile(list, count, area, 0.5);
    return VUG_OK;
}

vug_status vug_thickness_get(const vug_thickness *t, vug_thickness_info *info)
{
    if (!t || !info)
        return VUG_ERR_ARGUMENT;
    if (t->count == 0)
        return VUG_ERR_NOT_FOUND;
    vug_thickness_info own = {.struct_size = sizeof own, .samples = t->count, .min_mm = INFINITY};
    size_t count = 0;
    vugi_thick *list = vugi_alloc(&t->mem, t->count, sizeof *list);
    if (!list)
        return VUG_ERR_MEMORY;
    for (size_t i = 0; i < t->count; i++) {
        const vugi_skin_sample *s = t->sample + i;
        own.area_mm2 += s->area;
        if (s->thickness == 0.0) {
            if (own.coincident_mm2 == 0.0)
                memcpy(own.coincident_at_mm, s->point, sizeof own.coincident_at_mm);
            own.coincident_mm2 += s->area;
            continue;
        }
        list[count++] = (vugi_thick){s->thickness, s->area};
        own.max_mm = fmax(own.max_mm, s->thickness);
        if (s->thickness < own.min_mm) {
            own.min_mm = s->thickness;
            memcpy(own.min_at_mm, s->point, sizeof own.min_at_mm);
        }
    }
    vug_status status = take_percentiles(t, list, count, own.area_mm2 - own.coincident_mm2, &own);
    vugi_free(&t->mem, list);
    if (status)
        return status;
    return vugi_struct_write(NULL, info, &own, sizeof own, "vug_thickness_info");
}

vug_status vug_thickness_histogram(const vug_thickness *t, double lo_mm, double hi_mm, double *bins,
    size_t count)
{
    if (!t || !bins || count == 0 || !isfinite(lo_mm) || !isfinite(hi_mm) || !(hi_mm > lo_mm))
        return VUG_ERR_ARGUMENT;
    for (size_t b = 0; b < count; b++)
        bins[b] = 0.0;
    for (size_t i = 0; i < t->count; i++) {
        double at = (t->sample[i].thickness - lo_mm) / (hi_mm - lo_mm) * (double)count;
        size_t b = !(at >= 1.0) ? 0 : at >= (double)count ? count - 1 : (size_t)at;
        bins[b] += t->sample[i].area;
    }
    return VUG_OK;
}

vug_status vug_thickness_at(const vug_thickness *t, const double *point, double *thickness_mm)
{
    double p[3], n[3];
    uint32_t triangle = 0;
    if (!t || !point || !thickness_mm || !isfinite(point[0]) || !isfinite(point[1])
        || !isfinite(point[2]))
        return VUG_ERR_ARGUMENT;
    vugi_tree_nearest(&t->tree, point, INFINITY, p, &triangle);
    const uint32_t *v = t->mesh->triangles + 3 * (size_t)triangle;
    const double *a = t->mesh->xyz + 3 * (size_t)v[0], *b = t->mesh->xyz + 3 * (size_t)v[1];
    const double *c = t->mesh->xyz + 3 * (size_t)v[2];
    vugi_triangle_cross(a, c, b, n); /* inward */
    vugi_normalise(n);
    *thickness_mm = vugi_thickness_of(&t->tree, p, n);
    return VUG_OK;
}

/* ---- thin spots -------------------------------------------------------------------- */

/* Thin samples on one triangle belong together. parent has room behind it for the triangles. */
static void join_thin(const vug_thickness *t, double below, uint32_t *parent)
{
    uint32_t *last = parent + t->count; /* thin sample seen last on each triangle */
    for (size_t i = 0; i < t->mesh->triangle_count; i++) {
        last[i] = UINT32_MAX;
        for (size_t k = 0; k < 3; k++) {
            uint32_t s = t->of_vertex[t->mesh->triangles[3 * i + k]];
            if (s == UINT32_MAX || t->sample[s].thickness >= below)
                continue;
            if (last[i] != UINT32_MAX)
                vugi_sets_unite(parent, last[i], s);
            last[i] = s;
        }
    }
    for (uint32_t s = 0; s < t->count; s++) {
        uint32_t *on = last + t->sample[s].triangle;
        if (t->sample[s].thickness >= below)
            continue;
        if (*on != UINT32_MAX)
            vugi_sets_unite(parent, *on, s);
        *on = s;
    }
}

static int compare_rows(const void *left, const void *right, const void *user)
{
    const double *p = left, *q = right;
    if (p[3] < q[3] || p[3] > q[3])
        return p[3] < q[3] ? -1 : 1;
    return vugi_by_number(p, q, user);
}

vug_status vug_thickness_spots(vug_context *ctx, const vug_thickness *t, double below_mm,
    double **rows, size_t *row_count)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!t || !rows || !row_count || !isfinite(below_mm))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "thickness or rows is NULL, or below_mm not finite");
    uint32_t *parent = vugi_alloc(&ctx->mem, t->count + t->mesh->triangle_count, sizeof *parent);
    if (!parent)
        return vugi_fail_memory(ctx);
    vugi_sets_init(parent, t->count);
    join_thin(t, below_mm, parent);
    size_t count = 0;
    for (uint32_t i = 0; i < t->count; i++)
        count += t->sample[i].thickness < below_mm && vugi_sets_find(parent, i) == i;
    double *own = vugi_alloc(&ctx->mem, 5 * count, sizeof *own);
    uint32_t *number = vugi_alloc(&ctx->mem, t->count, sizeof *number);
    if (!own || !number) {
        vugi_free(&ctx->mem, own);
        vugi_free(&ctx->mem, number);
        vugi_free(&ctx->mem, parent);
        return vugi_fail_memory(ctx);
    }
    size_t made = 0;
    for (uint32_t i = 0; i < t->count; i++) {
        const vugi_skin_sample *s = t->sample + i;
        if (s->thickness >= below_mm)
            continue;
        uint32_t root = vugi_sets_find(parent,
            i); /* the lowest number of its spot, so it comes first */
        if (root == i) {
            number[i] = (uint32_t)made;
            own[5 * made + 3] = INFINITY;
            own[5 * made++ + 4] = 0.0;
        }
        double *spot = own + 5 * (size_t)number[root];
        spot[4] += s->area;
        if (s->thickness < spot[3]) {
            memcpy(spot, s->point, sizeof s->point);
            spot[3] = s->thickness;
        }
    }
    vugi_free(&ctx->mem, number);
    vugi_free(&ctx->mem, parent);
    if (!vugi_sort(&ctx->mem, own, count, 5 * sizeof *own, compare_rows, NULL)) {
        vugi_free(&ctx->mem, own);
        return vugi_fail_memory(ctx);
    }
    *rows = own;
    *row_count = count;
    return VUG_OK;
}
