/* SPDX-License-Identifier: MIT
 * Where the thickness of a wall is measured. */
#include "cavity/skin.h"

#include "base/vec.h"
#include "cavity/thickness_types.h"
#include "mesh/weld.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum {
    MOST_PARTS = 64,
    LOOK = 4096
}; /* of one edge of a triangle; triangles between looks for a cancel */

typedef struct skin {
    vug_context *ctx;
    const vug_mesh *mesh;
    vug_thickness *t;
    double spacing;
    double *normal; /* sum at each vertex, weighted by angle */
    double *area;   /* share of each vertex of the small triangles around it */
    uint8_t *inner; /* vertex of a cavity's wall */
    size_t room;    /* for so many samples */
    uint32_t *cut;  /* triangles that are cut into parts */
    size_t cut_count, cut_room;
} skin;

/* Vertices of cavity meshes are the part's own, to the bit. */
static vug_status mark_inner(skin *s, const vug_cavities *cavities)
{
    const size_t n = s->mesh->vertex_count, bodies = cavities ? cavities->cavity_count : 0;
    size_t count = 0, most = n;
    for (size_t i = 0; i < bodies; i++) {
        const size_t of = cavities->cavity[i].mesh->vertex_count;
        count += of;
        most = of > most ? of : most;
    }
    if (count == 0)
        return VUG_OK;
    uint32_t *number = vugi_alloc(&s->ctx->mem, most, sizeof *number);
    if (!number)
        return vugi_fail_memory(s->ctx);
    vugi_weld weld;
    vug_status status = vugi_weld_begin(s->ctx, &weld, count);
    for (size_t i = 0; i < bodies && !status; i++) {
        const vug_mesh *mesh = cavities->cavity[i].mesh;
        status = vugi_weld_points(s->ctx, &weld, mesh->xyz, mesh->vertex_count, number);
    }
    const size_t inner = weld.count;
    if (!status)
        status = vugi_weld_points(s->ctx, &weld, s->mesh->xyz, n, number);
    for (size_t v = 0; v < n && !status; v++)
        s->inner[v] = number[v] < inner;
    vugi_weld_free(&weld);
    vugi_free(&s->ctx->mem, number);
    return status;
}

typedef struct face {
    const double *corner[3];
    double normal[3], area;
    double side[3], longest; /* from each corner to the next */
} face;

static face face_of(const vug_mesh *mesh, size_t t)
{
    assert(t < mesh->triangle_count);
    face f;
    for (size_t k = 0; k < 3; k++)
        f.corner[k] = mesh->xyz + 3 * (size_t)mesh->triangles[3 * t + k];
    vugi_triangle_cross(f.corner[0], f.corner[1], f.corner[2], f.normal);
    f.area = 0.5 * vugi_normalise(f.normal);
    for (size_t k = 0; k < 3; k++)
        f.side[k] = vugi_point_distance(f.corner[k], f.corner[(k + 1) % 3]);
    f.longest = vugi_greater(f.side[0], vugi_greater(f.side[1], f.side[2]));
    return f;
}

/* A large triangle is cut along each edge into so many parts, others are 0. */
static int cuts_of(const face *f, double spacing)
{
    bool large = f->longest > spacing && f->area > 0.0;
    return large ? (int)fmin(MOST_PARTS, ceil(f->longest / spacing)) : 0;
}

/* Normals at vertices weighted by angle, so that they do not depend on how a face is split
 * (Thuermer & Wuethrich 1998, J. Graphics Tools 3(1):43-46). */
static void add_to_vertices(skin *s, size_t t, const face *f)
{
    for (size_t k = 0; k < 3; k++) {
        const double *p = f->corner[k], *q = f->corner[(k + 1) % 3], *r = f->corner[(k + 2) % 3];
        size_t v = s->mesh->triangles[3 * t + k];
        double a = f->side[k], b = f->side[(k + 2) % 3], c = 0.0;
        for (int i = 0; i < 3; i++)
            c += (q[i] - p[i]) * (r[i] - p[i]);
        double angle = a > 0.0 && b > 0.0 ? acos(vugi_greater(vugi_lesser(c / (a * b), 1.0), -1.0))
                                          : 0.0;
        for (size_t i = 0; i < 3; i++)
            s->normal[3 * v + i] += angle * f->normal[i];
        if (f->longest <= s->spacing)
            s->area[v] += f->area / 3.0;
    }
}

static bool push(skin *s, const double point[3], const double outward[3], double area,
    uint32_t triangle)
{
    assert(area >= 0.0);
    vug_thickness *t = s->t;
    if (!vugi_reserve(&t->mem, &t->sample, &s->room, t->count + 1, sizeof *t->sample))
        return false;
    vugi_skin_sample *sample = t->sample + t->count++;
    *sample = (vugi_skin_sample){.area = area, .triangle = triangle};
    for (int k = 0; k < 3; k++) {
        sample->point[k] = point[k];
        sample->inward[k] = -outward[k];
    }
    return true;
}

static bool push_vertices(skin *s)
{
    const vug_mesh *mesh = s->mesh;
    uint32_t *of = s->t->of_vertex;
    for (size_t v = 0; v < mesh->vertex_count; v++)
        of[v] = UINT32_MAX;
    for (uint32_t t = 0; t < mesh->triangle_count; t++) {
        for (size_t k = 0; k < 3; k++) {
            size_t v = mesh->triangles[3 * (size_t)t + k];
            double *n = s->normal + 3 * v;
            double length = vugi_length(n);
            if (of[v] != UINT32_MAX || s->inner[v] || !(length > 1e-6))
                continue;
            const double unit[3] = {n[0] / length, n[1] / length, n[2] / length};
            of[v] = (uint32_t)s->t->count;
            if (!push(s, mesh->xyz + 3 * v, unit, s->area[v], t))
                return false;
        }
    }
    return true;
}

/* Into how many parts along each edge a triangle is cut: 0 as well on the walls of cavities, and if another one like it
 * came before. */
static int cuts_at(const skin *s, size_t t, const face *f)
{
    const uint32_t *v = s->mesh->triangles + 3 * t, *weight = s->t->tree.weight;
    bool inner = s->inner[v[0]] && s->inner[v[1]] && s->inner[v[2]];
    return inner || (weight && weight[t] == 0) ? 0 : cuts_of(f, s->spacing);
}

/* What a triangle gives to its corners; notes it if it is cut, and adds into how many parts. false: no memory. */
static bool look_at(skin *s, uint32_t t, size_t *parts)
{
    const face f = face_of(s->mesh, t);
    const size_t n = (size_t)cuts_at(s, t, &f);
    add_to_vertices(s, t, &f);
    *parts += n * n;
    if (n == 0)
        return true;
    if (!vugi_reserve(&s->ctx->mem, &s->cut, &s->cut_room, s->cut_count + 1, sizeof *s->cut))
        return false;
    s->cut[s->cut_count++] = t;
    return true;
}

/* Middles of the parts that a triangle is cut into. The first of triangles that are alike stands for
 * all of their area. */
static bool push_parts(skin *s, uint32_t t)
{
    const uint32_t *weight = s->t->tree.weight;
    const face f = face_of(s->mesh, t);
    double area = weight ? f.area * weight[t] : f.area;
    int n = cuts_at(s, t, &f);
    for (int i = 0; i < n; i++) {
        for (int j = 0; j < 2 * (n - i) - 1; j++) { /* row i, pointing up and down in turn */
            double u = (i + (j % 2 ? 2.0 : 1.0) / 3.0) / n,
                   v = (j / 2 + (j % 2 ? 2.0 : 1.0) / 3.0) / n;
            double p[3];
            for (int k = 0; k < 3; k++)
                p[k] = f.corner[0][k] + v * (f.corner[1][k] - f.corner[0][k])
                    + u * (f.corner[2][k] - f.corner[0][k]);
            if (!push(s, p, f.normal, area / (n * n), t))
                return false;
        }
    }
    return true;
}

vug_status vugi_skin_sample_mesh(vug_context *ctx, const vug_cavities *cavities, double spacing,
    vug_thickness *t)
{
    const vug_mesh *mesh = t->mesh;
    size_t n = mesh->vertex_count, parts = 0;
    skin s = {.ctx = ctx, .mesh = mesh, .t = t, .spacing = spacing};
    s.normal = vugi_calloc(&ctx->mem, 3 * n, sizeof *s.normal);
    s.area = vugi_calloc(&ctx->mem, n, sizeof *s.area);
    s.inner = vugi_calloc(&ctx->mem, n, 1);
    bool fits = s.normal && s.area && s.inner;
    vug_status status = fits ? mark_inner(&s, cavities) : vugi_fail_memory(ctx);
    for (uint32_t i = 0; i < mesh->triangle_count && !status && fits; i++) {
        if (i % LOOK == 0)
            status = vugi_step(ctx, 0.1 + 0.05 * (double)i / (double)mesh->triangle_count);
        fits = look_at(&s, i, &parts);
    }
    for (size_t v = 0; v < n && !status; v++)
        parts += !s.inner[v];
    if (!status)
        fits = fits && vugi_reserve(&t->mem, &t->sample, &s.room, parts, sizeof *t->sample)
            && push_vertices(&s);
    for (size_t i = 0; i < s.cut_count && !status && fits; i++) {
        if (i % LOOK == 0)
            status = vugi_step(ctx, 0.15 + 0.05 * (double)i / (double)s.cut_count);
        fits = push_parts(&s, s.cut[i]);
    }
    if (!status && !fits)
        status = vugi_fail_memory(ctx);
    vugi_free(&ctx->mem, s.normal);
    vugi_free(&ctx->mem, s.area);
    vugi_free(&ctx->mem, s.inner);
    vugi_free(&ctx->mem, s.cut);
    return status;
}

/* Samples of a mesh that is all skin. */
static double samples_of(const vug_mesh *mesh, double spacing)
{
    double count = (double)mesh->vertex_count;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        face f = face_of(mesh, t);
        int n = cuts_of(&f, spacing);
        count += (double)n * n;
    }
    return count;
}

double vugi_skin_bytes(const vug_mesh *mesh, const vug_cavities *cavities, double spacing)
{
    double count = samples_of(mesh, spacing);
    const size_t each = 4 * sizeof(double) + 1; /* normal, area, inner */
    for (size_t i = 0; cavities && i < cavities->cavity_count; i++)
        count -= samples_of(cavities->cavity[i].mesh, spacing);
    return fmax(count, 0.0) * sizeof(vugi_skin_sample) + (double)mesh->vertex_count * (double)each;
}
