/* SPDX-License-Identifier: MIT */
#include "cavity/split.h"

#include "cavity/triangulate.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "base/vec.h"
#include "mesh/edges.h"

#include <math.h>
#include <string.h>

/* The outer side of a cap stands off by this share of its reach, so that a cavity whose corners all lie
 * on its caps is still seen to lie inside the shell around it. */
static const double APART = 1e-6;

/* A fan may fold over itself by so much of its area. */
static const double FOLDED = 0.05;

/* A half-edge of a rim, and one with a rim across. Both: two holes meet at that edge, like the nostrils of a
 * nose, and neither side of it is outside. */
enum { RIM = 1, ACROSS = 2, SHARED = RIM | ACROSS };

/* A vertex of a rim as one side of it sees it. */
typedef struct twin {
    uint32_t vertex, side, number; /* number: of the new vertex */
} twin;

typedef struct split {
    vug_context *ctx;
    const vug_mesh *mesh;
    const uint32_t *other;
    vugi_cap *cap;
    size_t cap_count;
    uint8_t *barred;  /* of each half-edge: RIM, ACROSS */
    uint8_t *on_rim;  /* of each vertex */
    uint32_t *parent; /* union-find over triangles */
    twin *twin;
    size_t twin_count, twin_capacity;
    double *xyz;
    uint32_t *triangles;
    int32_t *tag;
    size_t vertex_count, triangle_count;
} split;

/* ---- sides ------------------------------------------------------------------------- */

static void bar(split *s)
{
    memset(s->barred, 0, 3 * s->mesh->triangle_count);
    for (size_t i = 0; i < s->cap_count; i++) {
        const vugi_wall *w = s->cap[i].wall;
        for (size_t k = 0; k < w->rim_count && s->cap[i].apart; k++) {
            uint32_t across = vugi_across(s->mesh, s->other, w->rim[k]);
            s->barred[w->rim[k]] |= RIM;
            if (across != UINT32_MAX)
                s->barred[across] |= ACROSS;
        }
    }
}

/* Joins triangles over all edges that are not barred. */
static void join_sides(split *s)
{
    vugi_sets_init(s->parent, s->mesh->triangle_count);
    for (uint32_t h = 0; h < 3 * s->mesh->triangle_count; h++) {
        if (s->other[h] != UINT32_MAX && !s->barred[h])
            vugi_sets_unite(s->parent, h / 3, s->other[h]);
    }
}

/* The side that a rim parts from its own, UINT32_MAX if there is none. */
static uint32_t side_outside(split *s, const vugi_wall *w)
{
    for (size_t k = 0; k < w->rim_count; k++) {
        uint32_t across = s->other[w->rim[k]];
        if (across != UINT32_MAX && s->barred[w->rim[k]] != SHARED)
            return vugi_sets_find(s->parent, across);
    }
    return UINT32_MAX;
}

/* Do the two sides of a rim hang together some other way, or has it only one? */
static bool joined_around(split *s, const vugi_wall *w)
{
    size_t shared = 0;
    for (size_t k = 0; k < w->rim_count; k++) {
        uint32_t across = s->other[w->rim[k]];
        bool here = s->barred[w->rim[k]] == SHARED;
        shared += here;
        if (across != UINT32_MAX && !here
            && vugi_sets_find(s->parent, across) == vugi_sets_find(s->parent, w->rim[k] / 3))
            return true;
    }
    return shared == w->rim_count;
}

/* Rims that part nothing are dropped, one after the other: what one leaves open joins others. */
static void find_sides(split *s)
{
    bool again = true;
    while (again) {
        again = false;
        bar(s);
        join_sides(s);
        for (size_t i = 0; i < s->cap_count; i++) {
            if (!s->cap[i].apart || !joined_around(s, s->cap[i].wall))
                continue;
            s->cap[i].apart = false;
            again = true;
        }
    }
}

/* ---- vertices ------------------------------------------------------------------------- */

static int compare_twins(const void *left, const void *right, const void *user)
{
    (void)user;
    const twin *p = left, *q = right;
    if (p->vertex != q->vertex)
        return p->vertex < q->vertex ? -1 : 1;
    return (p->side > q->side) - (p->side < q->side);
}

static bool add_twin(split *s, uint32_t vertex, uint32_t side)
{
    if (!vugi_reserve(&s->ctx->mem, &s->twin, &s->twin_capacity, s->twin_count + 1,
            sizeof *s->twin))
        return false;
    s->twin[s->twin_count++] = (twin){vertex, side, vertex};
    return true;
}

/* The vertices of the rims as their caps see them from outside: amid edges that two rims share no triangle of
 * the mesh does. */
static bool add_outer_twins(split *s)
{
    for (size_t i = 0; i < s->cap_count; i++) {
        const vugi_wall *w = s->cap[i].wall;
        uint32_t side = side_outside(s, w);
        for (size_t k = 0; k < w->rim_count && s->cap[i].apart; k++) {
            uint32_t v = vugi_edge_from(s->mesh, w->rim[k]);
            s->on_rim[v] = 1;
            if (side != UINT32_MAX && !add_twin(s, v, side))
                return false;
        }
    }
    return true;
}

/* Each side of a rim gets vertices of its own: the first keeps the old ones. */
static bool number_twins(split *s)
{
    size_t kept = 0;
    if (!add_outer_twins(s))
        return false;
    for (uint32_t h = 0; h < 3 * s->mesh->triangle_count; h++) {
        uint32_t v = s->mesh->triangles[h];
        if (s->on_rim[v] && !add_twin(s, v, vugi_sets_find(s->parent, h / 3)))
            return false;
    }
    if (!vugi_sort(&s->ctx->mem, s->twin, s->twin_count, sizeof *s->twin, compare_twins, NULL))
        return false;
    for (size_t i = 0; i < s->twin_count; i++) {
        twin here = s->twin[i];
        if (kept > 0 && compare_twins(s->twin + kept - 1, &here, NULL) == 0)
            continue;
        if (kept > 0 && s->twin[kept - 1].vertex == here.vertex)
            here.number = (uint32_t)s->vertex_count++;
        s->twin[kept++] = here;
    }
    s->twin_count = kept;
    return true;
}

static uint32_t vertex_on(const split *s, uint32_t vertex, uint32_t side)
{
    const twin key = {vertex, side, 0}, *found = NULL;
    if (s->on_rim[vertex])
        found = vugi_search(&key, s->twin, s->twin_count, sizeof key, compare_twins, NULL);
    return found ? found->number : vertex;
}

/* ---- caps --------------------------------------------------------------------------------- */

static void add_triangle(split *s, uint32_t a, uint32_t b, uint32_t c, int32_t tag)
{
    uint32_t *v = s->triangles + 3 * s->triangle_count;
    v[0] = a;
    v[1] = b;
    v[2] = c;
    s->tag[s->triangle_count++] = tag;
}

/* Corners of the cap's triangles, counter-clockwise from outside, as places in the rim; its count stands
 * for the peak. A fan if nearly all of the rim can be seen from there, else ears. */
static vug_status shape_cap(split *s, const vugi_cap *cap, uint32_t *corner, size_t *count)
{
    const vugi_wall *w = cap->wall;
    const size_t n = w->rim_count;
    double *uv = vugi_alloc(&s->ctx->mem, 2 * n, sizeof *uv), area = 0.0, folded = 0.0, peak[3];
    if (!uv)
        return vugi_fail_memory(s->ctx);
    vugi_wall_frame(w, cap->peak, peak);
    for (size_t i = 0; i < n; i++) {
        double xys[3];
        vugi_wall_frame(w, s->mesh->xyz + 3 * (size_t)vugi_edge_from(s->mesh, w->rim[i]), xys);
        vugi_subtract(xys, peak, xys);
        memcpy(uv + 2 * i, xys, 2 * sizeof *uv);
    }
    for (size_t i = 0; i < n; i++) {
        const double *p = uv + 2 * i, *q = uv + 2 * ((i + 1) % n);
        double twice = p[0] * q[1] - p[1] * q[0];
        area += twice;
        folded += fmax(0.0, -twice);
    }
    *count = n - 2;
    vug_status status = folded <= FOLDED * area ? VUG_ERR_MESH
                                                : vugi_triangulate(s->ctx, uv, n, corner);
    vugi_free(&s->ctx->mem, uv);
    if (status != VUG_ERR_MESH)
        return status;
    /* A fan folds over where the rim does, and still bounds the right side of it. */
    for (size_t i = 0; i < n; i++) {
        corner[3 * i] = (uint32_t)i;
        corner[3 * i + 1] = (uint32_t)((i + 1) % n);
        corner[3 * i + 2] = (uint32_t)n;
    }
    *count = n;
    return VUG_OK;
}

/* One side of a cap. outer: it faces inward there, and stands off. */
static void add_side(split *s, const vugi_cap *cap, const uint32_t *corner, size_t count,
    bool outer, uint32_t *vertex)
{
    const vugi_wall *w = cap->wall;
    const size_t n = w->rim_count;
    uint32_t side = outer ? side_outside(s, w) : vugi_sets_find(s->parent, w->rim[0] / 3);
    double reach = 0.0;
    vertex[n] = (uint32_t)s->vertex_count++;
    memcpy(s->xyz + 3 * (size_t)vertex[n], cap->peak, sizeof cap->peak);
    for (size_t i = 0; i < n; i++) {
        const double *p = s->mesh->xyz + 3 * (size_t)vugi_edge_from(s->mesh, w->rim[i]);
        vertex[i] = vertex_on(s, vugi_edge_from(s->mesh, w->rim[i]), side);
        for (int k = 0; k < 3; k++)
            reach = fmax(reach, fabs(p[k] - cap->peak[k]));
    }
    for (size_t i = 0; i <= n && outer; i++)
        for (size_t k = 0; k < 3; k++)
            s->xyz[3 * (size_t)vertex[i] + k] += APART * reach * w->axis[k];
    for (size_t i = 0; i < count; i++) {
        const uint32_t *c = corner + 3 * i;
        add_triangle(s, vertex[c[0]], vertex[c[outer ? 1 : 2]], vertex[c[outer ? 2 : 1]], cap->tag);
    }
}

static vug_status add_cap(split *s, const vugi_cap *cap)
{
    const size_t n = cap->wall->rim_count;
    size_t count = 0;
    uint32_t *corner = vugi_alloc(&s->ctx->mem, 3 * n, sizeof *corner);
    uint32_t *vertex = vugi_alloc(&s->ctx->mem, n + 1, sizeof *vertex);
    vug_status status = corner && vertex ? shape_cap(s, cap, corner, &count)
                                         : vugi_fail_memory(s->ctx);
    for (int outer = 0; outer < 2 && !status; outer++)
        add_side(s, cap, corner, count, outer, vertex);
    vugi_free(&s->ctx->mem, corner);
    vugi_free(&s->ctx->mem, vertex);
    return status;
}

/* ---- all of it ------------------------------------------------------------------------------ */

static bool make_room(split *s)
{
    const vugi_allocator *mem = &s->ctx->mem;
    size_t rims = 0, vertices = s->vertex_count, triangles = s->mesh->triangle_count;
    for (size_t i = 0; i < s->cap_count; i++)
        rims += s->cap[i].wall->rim_count;
    s->xyz = vugi_alloc(mem, 3 * (vertices + 2 * s->cap_count), sizeof *s->xyz);
    s->triangles = vugi_alloc(mem, 3 * (triangles + 2 * rims), sizeof *s->triangles);
    s->tag = vugi_alloc(mem, triangles + 2 * rims, sizeof *s->tag);
    return s->xyz && s->triangles && s->tag;
}

static void copy_mesh(split *s)
{
    const vug_mesh *mesh = s->mesh;
    memcpy(s->xyz, mesh->xyz, 3 * mesh->vertex_count * sizeof *s->xyz);
    for (size_t i = 0; i < s->twin_count; i++)
        memcpy(s->xyz + 3 * (size_t)s->twin[i].number, mesh->xyz + 3 * (size_t)s->twin[i].vertex,
            3 * sizeof *s->xyz);
    for (uint32_t t = 0; t < mesh->triangle_count; t++) {
        const uint32_t *v = mesh->triangles + 3 * (size_t)t;
        uint32_t side = vugi_sets_find(s->parent, t);
        add_triangle(s, vertex_on(s, v[0], side), vertex_on(s, v[1], side),
            vertex_on(s, v[2], side), -1);
    }
}

static vug_status finish(split *s, vugi_tagged *out)
{
    out->mesh = vugi_mesh_adopt(&s->ctx->mem, s->xyz, s->vertex_count, s->triangles,
        s->triangle_count);
    s->xyz = NULL;
    s->triangles = NULL;
    if (!out->mesh)
        return vugi_fail_memory(s->ctx);
    out->tag = s->tag;
    s->tag = NULL;
    return VUG_OK;
}

vug_status vugi_split_mesh(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    vugi_cap *cap, size_t cap_count, vugi_tagged *out)
{
    const vugi_allocator *mem = &ctx->mem;
    split s = {.ctx = ctx, .mesh = mesh, .other = other, .cap = cap, .cap_count = cap_count};
    s.vertex_count = mesh->vertex_count;
    s.barred = vugi_alloc(mem, 3 * mesh->triangle_count, sizeof *s.barred);
    s.on_rim = vugi_calloc(mem, mesh->vertex_count, sizeof *s.on_rim);
    s.parent = vugi_alloc(mem, mesh->triangle_count, sizeof *s.parent);
    vug_status status = s.barred && s.on_rim && s.parent ? VUG_OK : vugi_fail_memory(ctx);
    for (size_t i = 0; i < cap_count; i++)
        cap[i].apart = true;
    if (!status)
        find_sides(&s);
    if (!status && (!number_twins(&s) || !make_room(&s)))
        status = vugi_fail_memory(ctx);
    if (!status)
        copy_mesh(&s);
    for (size_t i = 0; i < cap_count && !status; i++)
        if (cap[i].apart)
            status = add_cap(&s, cap + i);
    if (!status)
        status = finish(&s, out);
    vugi_free(mem, s.barred);
    vugi_free(mem, s.on_rim);
    vugi_free(mem, s.parent);
    vugi_free(mem, s.twin);
    vugi_free(mem, s.xyz);
    vugi_free(mem, s.triangles);
    vugi_free(mem, s.tag);
    return status;
}

void vugi_tagged_free(const vugi_allocator *mem, vugi_tagged *tagged)
{
    vug_mesh_free(tagged->mesh);
    vugi_free(mem, tagged->tag);
    *tagged = (vugi_tagged){.mesh = NULL};
}
