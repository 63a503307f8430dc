/* SPDX-License-Identifier: MIT
 * The wall is parted at the levels; pieces of it that hang together within a slab belong to the body or not, as most
 * of their area does by the columns beside it; where one that does meets one that does not is the edge of a lid. */
#include "shape/level/body.h"

#include "shape/level/lids.h"
#include "shape/level/slabs.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "base/vec.h"
#include "column/pose.h"

#include <math.h>
#include <string.h>

/* A mesh holds what its columns say within their error and this share, or it is none. */
static const double SHARE = 0.01;

typedef struct making {
    vug_context *ctx;
    const vugi_level_body *body;
    vugi_slabs slabs;
    uint32_t *parent; /* of the pieces: corner v below its height is 2 v, above it 2 v + 1 */
    double *vote;     /* of each piece, at its root: area in the body less area outside */
    vugi_lid_edge *edge;
    size_t edges, edge_capacity;
    vugi_rows lid;
    size_t lids_up;
    double volume;
} making;

static uint32_t piece_of(const making *m, size_t triangle, uint32_t corner)
{
    const vugi_slabs *s = &m->slabs;
    return 2 * corner + (s->on[corner] > 0 && vugi_slabs_above(s, triangle, corner));
}

static void join_pieces(making *m)
{
    vugi_sets_init(m->parent, 2 * m->slabs.corners);
    for (size_t t = 0; t < m->slabs.triangle_count; t++) {
        const uint32_t *v = m->slabs.triangles + 3 * t;
        uint32_t own = piece_of(m, t, v[0]);
        for (int k = 1; k < 3; k++)
            vugi_sets_unite(m->parent, own, piece_of(m, t, v[k]));
    }
}

/* Whether the span that is nearest to a place of the pose holds it: 1, -1; 0: none is near. */
static int side_at(const vugi_level_body *b, const double at[3])
{
    const vugi_columns *c = b->columns;
    double fx = (at[0] - c->x0) / c->h, fy = (at[1] - c->y0) / c->h, best = 4.0 * c->h * c->h;
    int side = 0;
    if (!(fx > -2.0 && fy > -2.0 && fx < c->nx + 1.0 && fy < c->ny + 1.0))
        return 0;
    for (int32_t y = (int32_t)floor(fy); y <= (int32_t)floor(fy) + 1; y++)
        for (int32_t x = (int32_t)floor(fx); x <= (int32_t)floor(fx) + 1; x++) {
            if (x < 0 || y < 0 || x >= c->nx || y >= c->ny)
                continue;
            size_t column = (size_t)y * (size_t)c->nx + (size_t)x;
            double dx = (fx - x) * c->h, dy = (fy - y) * c->h;
            for (size_t n = c->first[column]; n < c->first[column + 1]; n++) {
                double off = fmax(0.0, fmax(c->lo[n] - at[2], at[2] - c->hi[n]));
                double distance = dx * dx + dy * dy + off * off;
                if (distance >= best)
                    continue;
                best = distance;
                side = b->holds(b->user, n, at[2]) ? 1 : -1;
            }
        }
    return side;
}

/* Each triangle speaks for its area, a quarter of a column inside the wall. */
static void count_votes(making *m)
{
    const vugi_slabs *s = &m->slabs;
    for (size_t t = 0; t < s->triangle_count; t++) {
        const uint32_t *v = s->triangles + 3 * t;
        const double *a = s->xyz + 3 * (size_t)v[0], *b = s->xyz + 3 * (size_t)v[1],
                     *d = s->xyz + 3 * (size_t)v[2];
        double p[3], q[3], normal[3], at[3];
        for (int k = 0; k < 3; k++) {
            p[k] = b[k] - a[k];
            q[k] = d[k] - a[k];
        }
        vugi_cross(p, q, normal);
        double twice = vugi_length(normal);
        if (!(twice > 0.0))
            continue;
        for (int k = 0; k < 3; k++)
            at[k] = (a[k] + b[k] + d[k]) / 3.0
                - (k < 2 ? 0.25 * m->body->columns->h * normal[k] / twice : 0.0);
        m->vote[vugi_sets_find(m->parent, piece_of(m, t, v[0]))] += twice * side_at(m->body, at);
    }
}

static bool piece_in(making *m, uint32_t piece)
{
    return m->vote[vugi_sets_find(m->parent, piece)] > 0.0;
}

static bool triangle_in(making *m, size_t t)
{
    return piece_in(m, piece_of(m, t, m->slabs.triangles[3 * t]));
}

static bool list_edges(making *m)
{
    const vugi_slabs *s = &m->slabs;
    for (size_t t = 0; t < s->triangle_count; t++) {
        const uint32_t *v = s->triangles + 3 * t;
        for (int k = 0; k < 3; k++) {
            uint32_t a = v[k], b = v[(k + 1) % 3];
            if (s->on[a] == 0 || s->on[a] != s->on[b] || !triangle_in(m, t))
                continue;
            bool above = vugi_slabs_above(s, t, a);
            if (piece_in(m, 2 * a + !above)) /* goes on across */
                continue;
            if (!vugi_reserve(&s->mem, &m->edge, &m->edge_capacity, m->edges + 1, sizeof *m->edge))
                return false;
            m->edge[m->edges++] = (vugi_lid_edge){b, a, s->on[a], !above};
        }
    }
    return true;
}

static double cone(const vugi_slabs *s, const uint32_t v[3], const double from[3])
{
    double p[3][3], normal[3];
    for (int c = 0; c < 3; c++)
        for (int k = 0; k < 3; k++)
            p[c][k] = s->xyz[3 * (size_t)v[c] + (size_t)k] - from[k];
    vugi_cross(p[1], p[2], normal);
    return vugi_dot(p[0], normal) / 6.0;
}

/* By the divergence theorem. */
static void measure(making *m)
{
    const vugi_slabs *s = &m->slabs;
    m->volume = 0.0;
    for (size_t t = 0; t < s->triangle_count; t++)
        if (triangle_in(m, t))
            m->volume += cone(s, s->triangles + 3 * t, s->xyz);
    for (size_t t = 0; t < m->lid.count; t++)
        m->volume += cone(s, m->lid.row + 3 * t, s->xyz);
}

static void clear(making *m)
{
    vugi_slabs_free(&m->slabs);
    vugi_free(&m->ctx->mem, m->parent);
    vugi_free(&m->ctx->mem, m->vote);
    vugi_free(&m->ctx->mem, m->edge);
    vugi_free(&m->ctx->mem, m->lid.row);
    *m = (making){.ctx = m->ctx, .body = m->body, .lid = {.mem = m->ctx->mem}};
}

/* The body with its surfaces at these levels. VUG_ERR_MESH: its lids can't be made. */
static vug_status make(making *m, const double *level)
{
    clear(m);
    vug_status status = vugi_slabs_make(m->ctx, m->body->wall, m->body->columns->basis, level,
        m->body->levels, &m->slabs);
    if (status)
        return status;
    m->parent = vugi_alloc(&m->ctx->mem, 2 * m->slabs.corners, sizeof *m->parent);
    m->vote = vugi_calloc(&m->ctx->mem, 2 * m->slabs.corners, sizeof *m->vote);
    if (!m->parent || !m->vote)
        return vugi_fail_memory(m->ctx);
    join_pieces(m);
    count_votes(m);
    if (!list_edges(m))
        return vugi_fail_memory(m->ctx);
    status = vugi_lids(m->ctx, m->slabs.xyz, m->edge, m->edges, false, &m->lid, &m->lids_up);
    if (!status)
        measure(m);
    return status;
}

/* ---- levels ------------------------------------------------------------------------- */

bool vugi_levels_apart(const vugi_allocator *mem, double apart, double *level, size_t *count)
{
    size_t kept = 0;
    if (!vugi_sort(mem, level, *count, sizeof *level, vugi_by_number, NULL))
        return false;
    for (size_t i = 0; i < *count; i++)
        if (kept == 0 || level[i] > level[kept - 1] + apart)
            level[kept++] = level[i];
    *count = kept;
    return true;
}

/* What is missing or too much; without lids, or with nothing in it, all is. */
static double miss(const making *m, vug_status status)
{
    return status || !(m->volume > 0.0) ? INFINITY : fabs(m->volume - m->body->volume);
}

/* Moves one level after the other where the mesh comes nearer to the volume with it, by less and less likely steps,
 * until no more than a hundredth is missing. */
static vug_status settle(making *m, double *level)
{
    const double h = m->body->columns->h, enough = SHARE * m->body->volume;
    const double slack = m->body->error + enough + 4.0 * h * h * h;
    static const double step[] = {0.02, -0.02, 0.1, -0.1, 0.3, -0.3, 1.0, -1.0};
    vug_status status = make(m, level);
    double best = miss(m, status);
    for (size_t k = 0; k < m->body->levels && best > enough; k++) {
        double kept = m->body->level[k];
        for (size_t i = 0; i < sizeof step / sizeof *step && best > enough; i++) {
            if (status && status != VUG_ERR_MESH)
                return status;
            level[k] = m->body->level[k] + step[i] * h;
            status = make(m, level);
            if (miss(m, status) < best) {
                best = miss(m, status);
                kept = level[k];
            }
        }
        level[k] = kept;
    }
    if (!status || status == VUG_ERR_MESH)
        status = make(m, level);
    if (status == VUG_ERR_MESH || (!status && !(miss(m, status) <= slack)))
        return vugi_fail(m->ctx, VUG_ERR_MESH,
            "the wall does not part there as its columns do (it holds %g mm3, by them %g): take "
            "more "
            "columns",
            status ? 0.0 : m->volume, m->body->volume);
    return status;
}

/* ---- the mesh ------------------------------------------------------------------------- */

/* Corners that are used, numbered anew, in part coordinates; those of the wall to the last digit. */
static vug_status finish(making *m, bool surface, vug_mesh **out)
{
    const vugi_slabs *s = &m->slabs;
    const vugi_allocator *mem = &m->ctx->mem;
    size_t count = 0, corners = 0, lids = surface ? m->lids_up : m->lid.count;
    uint32_t *triangles = vugi_alloc(mem, 3 * (s->triangle_count + lids), sizeof *triangles);
    uint32_t *number = vugi_alloc(mem, s->corners, sizeof *number);
    double *xyz = vugi_alloc(mem, 3 * s->corners, sizeof *xyz);
    vug_status status = triangles && number && xyz ? VUG_OK : vugi_fail_memory(m->ctx);
    for (size_t t = 0; !status && !surface && t < s->triangle_count; t++)
        if (triangle_in(m, t))
            memcpy(triangles + 3 * count++, s->triangles + 3 * t, 3 * sizeof *triangles);
    if (!status && lids > 0)
        memcpy(triangles + 3 * count, m->lid.row, 3 * lids * sizeof *triangles);
    count += lids;
    if (!status && count == 0)
        status = vugi_fail(m->ctx, VUG_ERR_NOT_FOUND, "there is no such surface at this moment");
    for (size_t i = 0; !status && i < s->corners; i++)
        number[i] = UINT32_MAX;
    for (size_t i = 0; !status && i < 3 * count; i++) {
        uint32_t v = triangles[i];
        if (number[v] == UINT32_MAX) {
            number[v] = (uint32_t)corners;
            if (s->on[v] == 0)
                memcpy(xyz + 3 * corners, m->body->wall->xyz + 3 * (size_t)v, 3 * sizeof *xyz);
            else
                vugi_to_part(m->body->columns->basis, s->xyz + 3 * (size_t)v, xyz + 3 * corners);
            corners++;
        }
        triangles[i] = number[v];
    }
    vugi_free(mem, number);
    if (!status && (*out = vugi_mesh_adopt(mem, xyz, corners, triangles, count)))
        return VUG_OK;
    if (!status)
        return vugi_fail_memory(m->ctx); /* the mesh has freed them */
    vugi_free(mem, xyz);
    vugi_free(mem, triangles);
    return status;
}

vug_status vugi_body_mesh(vug_context *ctx, const vugi_level_body *body, bool surface,
    vug_mesh **out)
{
    making m = {.ctx = ctx, .body = body, .lid = {.mem = ctx->mem}};
    double *level = vugi_alloc(&ctx->mem, body->levels + 1, sizeof *level);
    vug_status status = level ? VUG_OK : vugi_fail_memory(ctx);
    if (!status && body->levels > 0)
        memcpy(level, body->level, body->levels * sizeof *level);
    if (!status)
        status = settle(&m, level);
    if (!status)
        status = finish(&m, surface, out);
    clear(&m);
    vugi_free(&ctx->mem, level);
    return status;
}
