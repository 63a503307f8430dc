/* SPDX-License-Identifier: MIT
 * Each edge that crosses the level gets one corner there, for both its triangles. What then has one triangle alone is an
 * edge on the level, where a lid begins. */
#include "shape/level/piece.h"

#include "shape/level/edges.h"
#include "shape/level/lids.h"

#include "base/sort.h"
#include "column/pose.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { BLOCK = 16384 };

/* An edge on the level, by its corners, the lower number first. from: where its triangle runs from. */
typedef struct shore {
    uint32_t low, high, from;
} shore;

/* Corners: those of the wall first, then the cuts in order. */
typedef struct making {
    vug_context *ctx;
    const vugi_wall_piece *piece;
    vugi_level_edges cut;
    vugi_rows row; /* triangles */
    shore *shore;
    size_t shores, shore_capacity;
    uint32_t *corner; /* of each vertex of the mesh */
    size_t corners;
    double *xyz, *pose; /* of each vertex */
    vugi_lid_edge *edge;
    size_t edges;
} making;

static void clear(making *m)
{
    const vugi_allocator *mem = &m->ctx->mem;
    vugi_free(mem, m->cut.edge);
    vugi_free(mem, m->row.row);
    vugi_free(mem, m->shore);
    vugi_free(mem, m->corner);
    vugi_free(mem, m->xyz);
    vugi_free(mem, m->pose);
    vugi_free(mem, m->edge);
}

static const uint32_t *corners_of(const making *m, size_t i)
{
    return m->piece->wall->corner + 3 * (size_t)m->piece->place[i];
}

/* ---- cuts ------------------------------------------------------------------------ */

static bool crosses(const making *m, uint32_t a, uint32_t b)
{
    const double *z = m->piece->height, level = m->piece->level;
    return (z[a] > level && z[b] < level) || (z[a] < level && z[b] > level);
}

static vug_status find_cuts(making *m)
{
    const vugi_allocator *mem = &m->ctx->mem;
    vug_status status = VUG_OK;
    for (size_t i = 0; i < m->piece->count && !status; i++) {
        const uint32_t *v = corners_of(m, i);
        if (i % BLOCK == 0)
            status = vugi_step(m->ctx, 0.0);
        for (int k = 0; k < 3; k++)
            if (crosses(m, v[k], v[(k + 1) % 3])
                && !vugi_level_edges_add(mem, &m->cut, v[k], v[(k + 1) % 3]))
                return vugi_fail_memory(m->ctx);
    }
    if (!vugi_level_edges_sort(mem, &m->cut))
        return vugi_fail_memory(m->ctx);
    for (size_t i = 0; i < m->cut.count; i++)
        m->cut.edge[i].corner = (uint32_t)(m->piece->wall->corner_count + i);
    return status;
}

/* ---- triangles ------------------------------------------------------------------- */

static bool is_on_level(const making *m, uint32_t corner)
{
    return corner >= m->piece->wall->corner_count || m->piece->height[corner] == m->piece->level;
}

/* What of a triangle is above the level: three or four corners. */
static size_t clip(const making *m, const uint32_t v[3], uint32_t kept[4])
{
    size_t count = 0;
    for (int k = 0; k < 3; k++) {
        const uint32_t next = v[(k + 1) % 3];
        if (m->piece->height[v[k]] >= m->piece->level)
            kept[count++] = v[k];
        if (crosses(m, v[k], next))
            kept[count++] = vugi_level_edges_corner(&m->cut, v[k], next);
    }
    assert(count >= 3);
    return count;
}

static bool add_shore(making *m, uint32_t from, uint32_t to)
{
    if (!vugi_reserve(&m->ctx->mem, &m->shore, &m->shore_capacity, m->shores + 1, sizeof *m->shore))
        return false;
    m->shore[m->shores++] = (shore){from < to ? from : to, from < to ? to : from, from};
    return true;
}

static vug_status cut_triangles(making *m)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; i < m->piece->count && !status; i++) {
        uint32_t kept[4];
        const size_t count = clip(m, corners_of(m, i), kept);
        bool good = vugi_rows_add(&m->row, kept[0], kept[1], kept[2]);
        if (good && count == 4)
            good = vugi_rows_add(&m->row, kept[0], kept[2], kept[3]);
        for (size_t k = 0; k < count && good; k++)
            if (is_on_level(m, kept[k]) && is_on_level(m, kept[(k + 1) % count]))
                good = add_shore(m, kept[k], kept[(k + 1) % count]);
        if (!good)
            return vugi_fail_memory(m->ctx);
        if (i % BLOCK == 0)
            status = vugi_step(m->ctx, 0.0);
    }
    return status;
}

/* ---- vertices -------------------------------------------------------------------- */

static void place_cut(const making *m, const vugi_level_edge *c, double at[3])
{
    const double *z = m->piece->height, *a = m->piece->wall->xyz + 3 * (size_t)c->a,
                 *b = m->piece->wall->xyz + 3 * (size_t)c->b;
    const double share = (m->piece->level - z[c->a]) / (z[c->b] - z[c->a]);
    for (int k = 0; k < 3; k++)
        at[k] = a[k] + share * (b[k] - a[k]);
}

static void place_vertices(making *m)
{
    const vugi_terrain *wall = m->piece->wall;
    for (size_t i = 0; i < m->corners; i++) {
        double *at = m->xyz + 3 * i;
        if (m->corner[i] < wall->corner_count)
            memcpy(at, wall->xyz + 3 * (size_t)m->corner[i], 3 * sizeof *at);
        else
            place_cut(m, m->cut.edge + (m->corner[i] - wall->corner_count), at);
        vugi_to_pose(m->piece->basis, at, m->pose + 3 * i);
    }
}

/* Corners that are used become vertices, in the order in which they come. number: of each corner, or UINT32_MAX. */
static void number_vertices(making *m, uint32_t *number)
{
    for (size_t i = 0; i < 3 * m->row.count; i++) {
        const uint32_t corner = m->row.row[i];
        if (number[corner] == UINT32_MAX) {
            number[corner] = (uint32_t)m->corners;
            m->corner[m->corners++] = corner;
        }
        m->row.row[i] = number[corner];
    }
    for (size_t i = 0; i < m->shores; i++) {
        shore *s = m->shore + i;
        const uint32_t from = number[s->from], to = number[s->from == s->low ? s->high : s->low];
        *s = (shore){from < to ? from : to, from < to ? to : from, from};
    }
}

static vug_status make_vertices(making *m)
{
    const vugi_allocator *mem = &m->ctx->mem;
    const size_t most = m->piece->wall->corner_count + m->cut.count;
    uint32_t *number = vugi_alloc(mem, most, sizeof *number);
    m->corner = vugi_alloc(mem, most, sizeof *m->corner);
    bool good = number && m->corner;
    if (good) {
        memset(number, 0xff, most * sizeof *number);
        number_vertices(m, number);
        m->xyz = vugi_alloc(mem, 3 * m->corners, sizeof *m->xyz);
        m->pose = vugi_alloc(mem, 3 * m->corners, sizeof *m->pose);
        good = m->xyz && m->pose;
    }
    if (good)
        place_vertices(m);
    vugi_free(mem, number);
    return good ? VUG_OK : vugi_fail_memory(m->ctx);
}

/* ---- lids ------------------------------------------------------------------------ */

/* Edges on the level that have no triangle on the other side: the lid's, which runs the other way. */
static bool list_edges(making *m)
{
    m->edge = vugi_alloc(&m->ctx->mem, m->shores, sizeof *m->edge);
    if (!m->edge
        || !vugi_sort(&m->ctx->mem, m->shore, m->shores, sizeof *m->shore, vugi_by_pair, NULL))
        return false;
    for (size_t i = 0, end; i < m->shores; i = end) {
        const shore *s = m->shore + i;
        int more = 0; /* run from low to high than back */
        for (end = i; end < m->shores && vugi_by_pair(s, m->shore + end, NULL) == 0; end++)
            more += m->shore[end].from == s->low ? 1 : -1;
        for (; more > 0; more--)
            m->edge[m->edges++] = (vugi_lid_edge){s->high, s->low, 0, false};
        for (; more < 0; more++)
            m->edge[m->edges++] = (vugi_lid_edge){s->low, s->high, 0, false};
    }
    return true;
}

static vug_status add_lids(making *m)
{
    size_t up;
    if (!list_edges(m))
        return vugi_fail_memory(m->ctx);
    vug_status status = vugi_lids(m->ctx, m->pose, m->edge, m->edges, true, &m->row, &up);
    return status != VUG_ERR_MESH
        ? status
        : vugi_fail(m->ctx, VUG_ERR_MESH, "the wall is open at the level");
}

vug_status vugi_piece_mesh(vug_context *ctx, const vugi_wall_piece *piece, vug_mesh **out)
{
    making m = {.ctx = ctx, .piece = piece, .row = {.mem = ctx->mem}};
    vug_status status = find_cuts(&m);
    if (!status)
        status = cut_triangles(&m);
    if (!status)
        status = make_vertices(&m);
    if (!status)
        status = add_lids(&m);
    if (!status) {
        *out = vugi_mesh_adopt(&ctx->mem, m.xyz, m.corners, m.row.row, m.row.count);
        m.xyz = NULL;
        m.row.row = NULL;
        status = *out ? VUG_OK : vugi_fail_memory(ctx);
    }
    clear(&m);
    return status;
}
