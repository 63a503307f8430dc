/* SPDX-License-Identifier: MIT
 * Gaps of a few triangles are closed before cavities are looked for, so that they do not keep the
 * rest of the part from being measured on its own triangles. */
#include "cavity/gaps.h"

#include "cavity/wall.h"

#include "base/vec.h"
#include "mesh/edges.h"

#include <math.h>
#include <string.h>

/* A gap has at most so many edges, and is at most this share of the part's longest side around. */
enum { MOST_EDGES = 64 };
static const double MOST_AROUND = 0.1;

typedef struct gaps {
    vug_context *ctx;
    const vug_mesh *mesh;
    uint32_t *other;
    uint8_t *seen; /* of each half-edge */
    double *xyz;
    uint32_t *triangles;
    size_t triangle_count, triangle_room;
    double most_around;
} gaps;

static bool any_triangle(const void *set, uint32_t t)
{
    (void)set;
    (void)t;
    return true;
}

/* Walks around the gap at an open half-edge. Returns how many edges it has, 0: too many. */
static size_t walk_gap(gaps *g, uint32_t start, uint32_t half[MOST_EDGES])
{
    double around = 0.0;
    size_t count = 0;
    for (uint32_t h = start; !g->seen[h];
         h = vugi_border_next(g->mesh, g->other, any_triangle, NULL, h)) {
        const double *p = g->mesh->xyz + 3 * (size_t)vugi_edge_from(g->mesh, h);
        const double *q = g->mesh->xyz + 3 * (size_t)vugi_edge_to(g->mesh, h);
        g->seen[h] = 1;
        around += vugi_point_distance(p, q);
        if (count < MOST_EDGES)
            half[count] = h;
        count++;
    }
    return count <= MOST_EDGES && around <= g->most_around ? count : 0;
}

static bool add_triangle(gaps *g, uint32_t a, uint32_t b, uint32_t c)
{
    if (!vugi_reserve(&g->ctx->mem, &g->triangles, &g->triangle_room, 3 * (g->triangle_count + 1),
            sizeof *g->triangles))
        return false;
    uint32_t *v = g->triangles + 3 * g->triangle_count++;
    v[0] = a;
    v[1] = b;
    v[2] = c;
    return true;
}

/* The triangles of least area in all that fill a gap (Barequet and Sharir 1995, Comput. Aided Geom. Des.
 * 12:207-229): where an edge of the part runs through it, they fold there. */
typedef struct filling {
    double area[MOST_EDGES][MOST_EDGES]; /* of the corners from one to another */
    uint8_t apex[MOST_EDGES][MOST_EDGES];
} filling;

static double area_of(const double *a, const double *b, const double *c)
{
    double n[3];
    vugi_triangle_cross(a, b, c, n);
    return 0.5 * vugi_length(n);
}

static const double *corner(const gaps *g, const uint32_t *half, size_t i)
{
    return g->mesh->xyz + 3 * (size_t)vugi_edge_from(g->mesh, half[i]);
}

static void weigh(const gaps *g, const uint32_t *half, size_t count, filling *f)
{
    for (size_t length = 1; length < count; length++) {
        for (size_t i = 0; i + length < count; i++) {
            size_t j = i + length;
            f->area[i][j] = length == 1 ? 0.0 : INFINITY;
            for (size_t k = i + 1; k < j; k++) {
                double area = f->area[i][k] + f->area[k][j]
                    + area_of(corner(g, half, i), corner(g, half, k), corner(g, half, j));
                if (area < f->area[i][j]) {
                    f->area[i][j] = area;
                    f->apex[i][j] = (uint8_t)k;
                }
            }
        }
    }
}

static bool fill_gap(gaps *g, const uint32_t *half, size_t count)
{
    uint8_t from[MOST_EDGES] = {0}, to[MOST_EDGES] = {(uint8_t)(count - 1)};
    size_t left = 1;
    bool fits = true;
    filling *f = vugi_alloc(&g->ctx->mem, 1, sizeof *f);
    if (!f)
        return false;
    weigh(g, half, count, f);
    while (left > 0 && fits) {
        uint8_t i = from[--left], j = to[left];
        if (j - i < 2)
            continue;
        uint8_t k = f->apex[i][j];
        fits = add_triangle(g, vugi_edge_from(g->mesh, half[j]), vugi_edge_from(g->mesh, half[k]),
            vugi_edge_from(g->mesh, half[i]));
        from[left] = i;
        to[left++] = k;
        from[left] = k;
        to[left++] = j;
    }
    vugi_free(&g->ctx->mem, f);
    return fits;
}

static bool fill_all(gaps *g)
{
    for (uint32_t h = 0; h < 3 * g->mesh->triangle_count; h++) {
        uint32_t half[MOST_EDGES];
        if (g->other[h] != UINT32_MAX || g->seen[h])
            continue;
        size_t count = walk_gap(g, h, half);
        if (count > 2 && !fill_gap(g, half, count))
            return false;
    }
    return true;
}

static vug_status start(gaps *g)
{
    const vug_mesh *mesh = g->mesh;
    size_t halves = 3 * mesh->triangle_count;
    g->other = vugi_alloc(&g->ctx->mem, halves, sizeof *g->other);
    g->seen = vugi_calloc(&g->ctx->mem, halves, sizeof *g->seen);
    if (!g->other || !g->seen
        || !(g->xyz = vugi_alloc(&g->ctx->mem, 3 * mesh->vertex_count, sizeof *g->xyz))
        || !vugi_reserve(&g->ctx->mem, &g->triangles, &g->triangle_room, halves,
            sizeof *g->triangles))
        return vugi_fail_memory(g->ctx);
    memcpy(g->xyz, mesh->xyz, 3 * mesh->vertex_count * sizeof *g->xyz);
    memcpy(g->triangles, mesh->triangles, halves * sizeof *g->triangles);
    g->triangle_count = mesh->triangle_count;
    for (int k = 0; k < 3; k++)
        g->most_around = fmax(g->most_around, MOST_AROUND * (mesh->hi[k] - mesh->lo[k]));
    return vugi_mesh_neighbours(g->ctx, mesh, g->other);
}

vug_status vugi_gaps_close(vug_context *ctx, const vug_mesh *mesh, vug_mesh **out)
{
    gaps g = {.ctx = ctx, .mesh = mesh};
    vug_status status = start(&g);
    if (!status && !fill_all(&g))
        status = vugi_fail_memory(ctx);
    if (!status) {
        *out = vugi_mesh_adopt(&ctx->mem, g.xyz, mesh->vertex_count, g.triangles, g.triangle_count);
        g.xyz = NULL;
        g.triangles = NULL;
        status = *out ? VUG_OK : vugi_fail_memory(ctx);
    }
    if (!status)
        (*out)->unit_mm = mesh->unit_mm;
    vugi_free(&ctx->mem, g.other);
    vugi_free(&ctx->mem, g.seen);
    vugi_free(&ctx->mem, g.xyz);
    vugi_free(&ctx->mem, g.triangles);
    return status;
}
