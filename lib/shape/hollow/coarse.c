/* SPDX-License-Identifier: MIT
 * Triangles are halved until each part is small enough to be judged by its corners. */
#include "shape/hollow/coarse.h"

#include "base/vec.h"

#include "mesh/crossing.h"
#include "mesh/edges.h"
#include "shape/hollow/wall.h"

#include <math.h>
#include <string.h>

enum { BLOCK = 256, LATTICE_MOST = 256 };

/* Of a step: edges that short are not halved any more. */
static const double SHORT = 0.3;

static void measure_far(const vugi_coarse *c, size_t from, size_t to)
{
    uint32_t triangle = 0;
    for (size_t v = from; v < to; v++)
        c->far[v] = vugi_tree_nearest_from(c->outer, c->fine->xyz + 3 * v, &triangle, NULL);
}

vug_status vugi_coarse_begin(vugi_coarse *c)
{
    const vugi_allocator *mem = &c->ctx->mem;
    size_t vertices = c->fine->vertex_count, triangles = c->fine->triangle_count;
    c->near = vugi_alloc(mem, vertices, sizeof *c->near);
    c->away = vugi_alloc(mem, vertices, sizeof *c->away);
    c->far = vugi_alloc(mem, vertices, sizeof *c->far);
    c->wall = vugi_alloc(mem, triangles, sizeof *c->wall);
    c->off = vugi_alloc(mem, triangles, sizeof *c->off);
    c->bad = vugi_alloc(mem, triangles, 1);
    if (!c->near || !c->away || !c->far || !c->wall || !c->off || !c->bad)
        return vugi_fail_memory(c->ctx);
    size_t blocks = (vertices + BLOCK - 1) / BLOCK;
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(c->ctx, blocks))
    for (size_t b = 0; b < blocks; b++)
        measure_far(c, b * BLOCK, b + 1 < blocks ? (b + 1) * BLOCK : vertices);
    return VUG_OK;
}

void vugi_coarse_end(vugi_coarse *c)
{
    const vugi_allocator *mem = &c->ctx->mem;
    vugi_free(mem, c->near);
    vugi_free(mem, c->away);
    vugi_free(mem, c->far);
    vugi_free(mem, c->wall);
    vugi_free(mem, c->off);
    vugi_free(mem, c->bad);
}

/* ---- one triangle --------------------------------------------------------------------- */

typedef struct corner {
    double x[3], far;
} corner;

typedef struct probe {
    const vugi_coarse *c;
    uint32_t outer, fine; /* triangles that were nearest last */
} probe;

static corner middle_of(probe *p, const corner *a, const corner *b)
{
    corner m;
    for (int k = 0; k < 3; k++)
        m.x[k] = 0.5 * (a->x[k] + b->x[k]);
    m.far = vugi_tree_nearest_from(p->c->outer, m.x, &p->outer, NULL);
    return m;
}

/* A bound below the distance from outer, at least `least` if that can be shown by halving the longest edge. */
static double bound_below(probe *p, const corner *v)
{
    double corners = fmin(v[0].far, fmin(v[1].far, v[2].far));
    double bound = vugi_wall_below(corners, v[0].x, v[1].x, v[2].x), longest = 0.0;
    if (bound >= p->c->least || corners < p->c->least)
        return bound;
    int k = 0;
    for (int i = 0; i < 3; i++) {
        double d = vugi_square_distance(v[i].x, v[(i + 1) % 3].x);
        if (d > longest) {
            longest = d;
            k = i;
        }
    }
    if (longest < SHORT * SHORT * p->c->step * p->c->step)
        return bound;
    const corner *a = &v[k], *b = &v[(k + 1) % 3], *apex = &v[(k + 2) % 3];
    corner m = middle_of(p, a, b);
    const corner first[3] = {*a, m, *apex}, second[3] = {m, *b, *apex};
    bound = bound_below(p, first);
    return bound < p->c->least ? bound : fmin(bound, bound_below(p, second));
}

static double farthest_from_fine(probe *p, const corner *v)
{
    double longest = 0.0, most = 0.0;
    for (int i = 0; i < 3; i++)
        longest = fmax(longest, vugi_point_distance(v[i].x, v[(i + 1) % 3].x));
    int n = 1 + (int)fmin(LATTICE_MOST, ceil(longest / p->c->step));
    for (int i = 0; i <= n; i++)
        for (int j = 0; i + j <= n; j++) {
            double x[3], a = (double)i / n, b = (double)j / n;
            if (i == n || j == n || i + j == 0)
                continue; /* a vertex of fine */
            for (int k = 0; k < 3; k++)
                x[k] = v[0].x[k] + a * (v[1].x[k] - v[0].x[k]) + b * (v[2].x[k] - v[0].x[k]);
            most = fmax(most, vugi_tree_nearest_from(p->c->fine_tree, x, &p->fine, NULL));
        }
    return most;
}

static void look_at_triangles(const vugi_coarse *c, const vug_mesh *mesh, size_t from, size_t to)
{
    probe p = {c, 0, 0};
    for (size_t t = from; t < to; t++) {
        corner v[3];
        for (int k = 0; k < 3; k++) {
            memcpy(v[k].x, mesh->xyz + 3 * (size_t)mesh->triangles[3 * t + (size_t)k],
                sizeof v[k].x);
            v[k].far = c->far[mesh->triangles[3 * t + (size_t)k]];
        }
        c->wall[t] = bound_below(&p, v);
        c->off[t] = farthest_from_fine(&p, v);
    }
}

static void look_at_vertices(const vugi_coarse *c, const vugi_tree *tree, size_t from, size_t to)
{
    uint32_t triangle = 0;
    for (size_t v = from; v < to; v++) {
        c->away[v] = vugi_tree_nearest_from(tree, c->fine->xyz + 3 * v, &triangle, NULL);
        c->near[v] = triangle;
    }
}

/* By blocks, for each of which a search begins anew: the same for any number of threads. */
static vug_status measure(const vugi_coarse *c, const vug_mesh *mesh, const vugi_tree *tree)
{
    size_t triangles = c->fresh, vertices = c->fine->vertex_count;
    size_t first = (triangles + BLOCK - 1) / BLOCK, all = first + (vertices + BLOCK - 1) / BLOCK;
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(c->ctx, all))
    for (size_t b = 0; b < all; b++) {
        size_t from = (b < first ? b : b - first) * BLOCK;
        size_t most = b < first ? triangles : vertices;
        size_t to = from + BLOCK < most ? from + BLOCK : most;
        if (vugi_cancelled(c->ctx))
            continue;
        if (b < first)
            look_at_triangles(c, mesh, from, to);
        else
            look_at_vertices(c, tree, from, to);
    }
    return vugi_step(c->ctx, 0.0);
}

/* ---- the whole ------------------------------------------------------------------------- */

static vug_status find_open(const vugi_coarse *c, const vug_mesh *mesh)
{
    vugi_edges edges = {.half = NULL};
    vug_status status = vugi_edges_build(c->ctx, mesh, &edges);
    for (size_t i = 0, end; !status && i < edges.count; i = end) {
        end = vugi_edges_next(mesh, &edges, i);
        if (end == i + 2
            && vugi_edge_from(mesh, edges.half[i]) == vugi_edge_to(mesh, edges.half[i + 1]))
            continue;
        for (size_t k = i; k < end; k++)
            c->bad[edges.half[k] / 3] = 1;
    }
    vugi_edges_free(c->ctx, &edges);
    return status;
}

vug_status vugi_coarse_look(vugi_coarse *c, const vug_mesh *mesh)
{
    memset(c->bad, 0, mesh->triangle_count);
    const vugi_crossing_rule rule = {.folded = VUGI_FOLDED, .deep = 0.0};
    vugi_tree tree = {.node = NULL};
    vug_status status = vugi_tree_build(c->ctx, mesh, &tree);
    if (!status)
        status = measure(c, mesh, &tree);
    if (!status)
        status = find_open(c, mesh);
    if (!status)
        status = vugi_crossing_find(c->ctx, mesh, &tree, c->fresh, &rule, c->bad);
    vugi_tree_free(&tree);
    if (status)
        return status;
    c->error = 0.0;
    c->thinnest = INFINITY;
    for (size_t v = 0; v < c->fine->vertex_count; v++) {
        c->error = fmax(c->error, c->away[v]);
        c->bad[c->near[v]] |= c->away[v] > c->bound;
    }
    c->faults = 0;
    for (size_t t = 0; t < c->fresh; t++) {
        c->error = fmax(c->error, c->off[t]);
        c->thinnest = fmin(c->thinnest, c->wall[t]);
        c->bad[t] |= c->off[t] > c->bound || c->wall[t] < c->least;
    }
    for (size_t t = 0; t < mesh->triangle_count; t++)
        c->faults += c->bad[t];
    return VUG_OK;
}
