/* SPDX-License-Identifier: MIT
 * Repair of gaps: only the vertices of open edges move or are put into edges, so that fine detail
 * of a sound surface stays as it is. */
#include "mesh/clean_gaps.h"

#include "base/sort.h"
#include "base/vec.h"
#include "mesh/edges.h"

#include <math.h>
#include <string.h>

enum { ROUNDS = 16 /* of splitting: each splits one edge of a triangle */ };

/* ---- vertices of open edges, sorted by x ------------------------------------------------------ */

typedef struct border {
    uint32_t *half; /* open half-edges */
    size_t halves;
    uint32_t *vertex; /* their vertices, each once, by x */
    size_t vertices;
} border;

static int compare_x(const void *left, const void *right, const void *user)
{
    const double *xyz = user;
    uint32_t v = *(const uint32_t *)left, w = *(const uint32_t *)right;
    double a = xyz[3 * (size_t)v], b = xyz[3 * (size_t)w];
    if (a < b || a > b)
        return a < b ? -1 : 1;
    return (v > w) - (v < w);
}

/* First place in b->vertex whose x is at least that. */
static size_t first_from(const border *b, const double *xyz, double x)
{
    size_t lo = 0, hi = b->vertices;
    while (lo < hi) {
        size_t middle = lo + (hi - lo) / 2;
        if (xyz[3 * (size_t)b->vertex[middle]] < x)
            lo = middle + 1;
        else
            hi = middle;
    }
    return lo;
}

static void free_border(vugi_clean *c, border *b)
{
    vugi_free(&c->ctx->mem, b->half);
    vugi_free(&c->ctx->mem, b->vertex);
}

static bool list_border(const vugi_allocator *mem, const vug_mesh *m, const vugi_edges *edges,
    border *b, unsigned char *seen)
{
    for (size_t first = 0, end; first < edges->count; first = end) {
        end = vugi_edges_next(m, edges, first);
        if (end - first != 1)
            continue;
        uint32_t half = edges->half[first];
        const uint32_t ends[2] = {vugi_edge_from(m, half), vugi_edge_to(m, half)};
        b->half[b->halves++] = half;
        for (int k = 0; k < 2; k++) {
            if (!seen[ends[k]])
                b->vertex[b->vertices++] = ends[k];
            seen[ends[k]] = 1;
        }
    }
    return vugi_sort(mem, b->vertex, b->vertices, sizeof *b->vertex, compare_x, m->xyz);
}

static vug_status find_border(vugi_clean *c, border *b)
{
    const vugi_allocator *mem = &c->ctx->mem;
    vugi_edges edges;
    *b = (border){NULL, 0, NULL, 0};
    vug_status status = vugi_edges_build(c->ctx, &c->mesh, &edges);
    if (status)
        return status;
    unsigned char *seen = vugi_calloc(mem, c->mesh.vertex_count, 1);
    b->half = vugi_alloc(mem, edges.count, sizeof *b->half);
    b->vertex = vugi_alloc(mem, c->mesh.vertex_count, sizeof *b->vertex);
    if (!seen || !b->half || !b->vertex || !list_border(mem, &c->mesh, &edges, b, seen))
        status = vugi_fail_memory(c->ctx);
    vugi_free(mem, seen);
    vugi_edges_free(c->ctx, &edges);
    if (status)
        free_border(c, b);
    return status;
}

/* ---- welding ------------------------------------------------------------------------------------ */

/* Each vertex goes to the nearest one before it, by x, that stays and lies within the tolerance:
 * chains do not creep, as only what stays attracts. */
static size_t choose_targets(const vugi_clean *c, const border *b, uint32_t *target)
{
    const double *xyz = c->mesh.xyz;
    size_t moved = 0;
    for (size_t i = 0; i < b->vertices; i++) {
        const double *p = xyz + 3 * (size_t)b->vertex[i];
        double best = c->tolerance * c->tolerance;
        for (size_t j = i; j-- > 0;) {
            uint32_t v = b->vertex[j];
            if (xyz[3 * (size_t)v] < p[0] - c->tolerance)
                break;
            double d2 = vugi_square_distance(xyz + 3 * (size_t)v, p);
            if (target[v] == v && d2 <= best) {
                best = d2;
                target[b->vertex[i]] = v;
            }
        }
        moved += target[b->vertex[i]] != b->vertex[i];
    }
    return moved;
}

vug_status vugi_clean_weld(vugi_clean *c)
{
    border b;
    vug_status status = find_border(c, &b);
    if (status || b.vertices == 0) {
        if (!status)
            free_border(c, &b);
        return status;
    }
    uint32_t *target = vugi_alloc(&c->ctx->mem, c->mesh.vertex_count, sizeof *target);
    if (target) {
        for (size_t v = 0; v < c->mesh.vertex_count; v++)
            target[v] = (uint32_t)v;
        c->report.vertices_welded += choose_targets(c, &b, target);
        for (size_t i = 0; i < 3 * c->mesh.triangle_count; i++)
            c->mesh.triangles[i] = target[c->mesh.triangles[i]];
    } else {
        status = vugi_fail_memory(c->ctx);
    }
    vugi_free(&c->ctx->mem, target);
    free_border(c, &b);
    return status;
}

/* ---- T-joints ------------------------------------------------------------------------------------- */

/* Place of p along the edge from a to b, 0..1, or -1 when it is not on it. */
static double place_on_edge(const double *a, const double *b, const double *p, double tolerance)
{
    double length2 = vugi_square_distance(a, b), along = 0.0;
    for (int k = 0; k < 3; k++)
        along += (p[k] - a[k]) * (b[k] - a[k]);
    double at = along / length2, off2 = 0.0;
    if (!(at > 0.0 && at < 1.0))
        return -1.0;
    for (int k = 0; k < 3; k++) {
        double d = p[k] - (a[k] + at * (b[k] - a[k]));
        off2 += d * d;
    }
    return off2 <= tolerance * tolerance ? at : -1.0;
}

/* The vertex of the border nearest to the edge's start that lies on it, or UINT32_MAX. */
static uint32_t vertex_on_edge(const vugi_clean *c, const border *b, uint32_t half)
{
    const double *xyz = c->mesh.xyz;
    uint32_t from = vugi_edge_from(&c->mesh, half), to = vugi_edge_to(&c->mesh, half);
    const double *p = xyz + 3 * (size_t)from, *q = xyz + 3 * (size_t)to;
    double tolerance = fmax(c->tolerance, 1e-12 * vugi_point_distance(p, q));
    double hi = fmax(p[0], q[0]) + tolerance, best = 2.0;
    uint32_t found = UINT32_MAX;
    uint32_t apex = c->mesh.triangles[half / 3 * 3 + (half + 2) % 3];
    for (size_t i = first_from(b, xyz, fmin(p[0], q[0]) - tolerance); i < b->vertices; i++) {
        uint32_t v = b->vertex[i];
        const double *r = xyz + 3 * (size_t)v;
        if (r[0] > hi)
            break;
        if (v == from || v == to || v == apex || r[1] < fmin(p[1], q[1]) - tolerance
            || r[1] > fmax(p[1], q[1]) + tolerance)
            continue;
        double at = place_on_edge(p, q, r, tolerance);
        if (at > 0.0 && at < best) {
            best = at;
            found = v;
        }
    }
    return found;
}

/* Triangle (from, to, apex) becomes (from, v, apex) and (v, to, apex). */
static vug_status split(vugi_clean *c, uint32_t half, uint32_t v)
{
    vug_mesh *m = &c->mesh;
    size_t count = m->triangle_count;
    if (count == VUG_MAX_TRIANGLES)
        return vugi_fail(c->ctx, VUG_ERR_LIMIT, "more than %d triangles", VUG_MAX_TRIANGLES);
    if (!vugi_reserve(&c->ctx->mem, &m->triangles, &c->capacity, count + 1,
            3 * sizeof *m->triangles))
        return vugi_fail_memory(c->ctx);
    uint32_t *old = m->triangles + half / 3 * 3, *added = m->triangles + 3 * count;
    memcpy(added, old, 3 * sizeof *old);
    old[(half + 1) % 3] = v;
    added[half % 3] = v;
    m->triangle_count++;
    c->report.joints_split++;
    return VUG_OK;
}

/* One round: each open edge with a vertex on it is split there, one edge of a triangle at a time. */
static vug_status split_round(vugi_clean *c, bool *any)
{
    border b;
    vug_status status = find_border(c, &b);
    if (status)
        return status;
    size_t count = c->mesh.triangle_count;
    unsigned char *done = vugi_calloc(&c->ctx->mem, count, 1);
    if (!done)
        status = vugi_fail_memory(c->ctx);
    *any = false;
    for (size_t i = 0; !status && i < b.halves; i++) {
        uint32_t half = b.half[i], v = done[half / 3] ? UINT32_MAX : vertex_on_edge(c, &b, half);
        if (v == UINT32_MAX)
            continue;
        done[half / 3] = 1;
        *any = true;
        status = split(c, half, v);
    }
    vugi_free(&c->ctx->mem, done);
    free_border(c, &b);
    return status;
}

vug_status vugi_clean_split_joints(vugi_clean *c)
{
    bool any = true;
    vug_status status = VUG_OK;
    for (int round = 0; !status && any && round < ROUNDS; round++) {
        status = split_round(c, &any);
        if (!status)
            status = vugi_step(c->ctx, 0.4);
    }
    return status;
}
