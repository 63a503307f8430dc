/* SPDX-License-Identifier: MIT
 * From a surface net to a surface at an exact distance. */
#include "shape/hollow/fit.h"

#include "base/vec.h"

#include "mesh/crossing.h"

#include <math.h>
#include <string.h>

enum { MOVES = 12, ROUNDS = 24, BLOCK = 1024 };

/* In steps of the grid: how far a vertex may go, and how near the level is near enough. */
static const double REACH = 1.5, NEAR = 1e-6;

/* ---- fit ------------------------------------------------------------------------------ */

/* On the way to the nearest point of the mesh that point stays the nearest, so one move ends on the level; on the
 * way from it another may come nearer, and one more look is taken. True if v lies at the distance now, inward
 * from the nearest point. */
static bool fit_vertex(const vugi_field *field, double v[3], uint32_t *triangle, double inward[3])
{
    double h = field->grid.h, p[3];
    *triangle = vugi_field_near(field, v, *triangle);
    bool exact = false;
    if (vugi_field_lowered(field, v) && vugi_field_at(field, v, triangle, inward) <= 0.0)
        return false; /* where a ceiling was lowered the net is the surface */
    memcpy(p, v, sizeof p);
    for (int i = 0; i < MOVES && !exact; i++) {
        double value = vugi_field_at(field, p, triangle, inward);
        if (fabs(value) <= NEAR * h)
            break;
        vugi_along(p, inward, value, p);
        exact = (field->within ? value < 0.0 : value > 0.0) && vugi_field_above(field, p) < 0.0;
    }
    if (vugi_square_distance(p, v) > REACH * REACH * h * h)
        return false;
    memcpy(v, p, sizeof p);
    return exact;
}

vug_status vugi_fit_vertices(vug_context *ctx, const vugi_field *field, vug_mesh *net,
    vugi_inner_wall *wall)
{
    size_t blocks = (net->vertex_count + BLOCK - 1) / BLOCK;
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(ctx, blocks))
    for (size_t b = 0; b < blocks; b++) {
        if (vugi_pulse(ctx, (double)b / (double)blocks))
            continue;
        uint32_t triangle = 0;
        for (size_t v = b * BLOCK; v < (b + 1) * BLOCK && v < net->vertex_count; v++) {
            double inward[3];
            bool exact = fit_vertex(field, net->xyz + 3 * v, &triangle, inward);
            if (wall && exact && wall->outer == field->tree) {
                wall->far[v] = field->distance;
                memcpy(wall->inward + 3 * v, inward, sizeof inward);
            }
        }
    }
    return vugi_step(ctx, 1.0);
}

/* ---- mend ----------------------------------------------------------------------------- */

typedef struct mend {
    vug_context *ctx;
    const double *before;
    vug_mesh *net;
    vugi_inner_wall *wall;     /* or NULL */
    uint8_t *crossing, *moved; /* vertices; moved since crossings were looked for */
    uint8_t *tried;            /* how often each was drawn back */
} mend;

/* Marks the neighbours of what is marked, too. */
static void widen(const mend *m)
{
    for (size_t t = 0; t < m->net->triangle_count; t++) {
        const uint32_t *tri = m->net->triangles + 3 * t;
        if (m->crossing[tri[0]] == 1 || m->crossing[tri[1]] == 1 || m->crossing[tri[2]] == 1)
            for (int k = 0; k < 3; k++)
                m->crossing[tri[k]] |= 2;
    }
}

/* Half way back to where the net had it, twice; then all the way. */
static void draw_back(const mend *m)
{
    for (size_t v = 0; v < m->net->vertex_count; v++) {
        if (!m->crossing[v])
            continue;
        double part = m->tried[v] < 2 ? 0.5 : 1.0;
        for (size_t k = 3 * v; k < 3 * v + 3; k++)
            m->net->xyz[k] += part * (m->before[k] - m->net->xyz[k]);
        m->tried[v] = (uint8_t)(m->tried[v] + 1);
        m->moved[v] = 1;
        if (m->wall)
            vugi_wall_moved(m->wall, v);
    }
}

static vug_status mend_rounds(mend *m)
{
    for (int round = 0; round < ROUNDS; round++) {
        size_t thin = 0, crossing = 0;
        vug_status status = m->wall ? vugi_wall_thicken(m->ctx, m->wall, m->net, m->moved, &thin)
                                    : VUG_OK;
        memset(m->crossing, 0, m->net->vertex_count);
        if (!status)
            status = vugi_crossing_mark(m->ctx, m->net, m->moved, m->crossing, &crossing);
        if (status || (crossing == 0 && thin == 0))
            return status;
        memset(m->moved, 0, m->net->vertex_count);
        if (round >= 3)
            widen(m);
        draw_back(m);
    }
    return vugi_fail(m->ctx, VUG_ERR_CONVERGENCE,
        "the inner surface crosses itself or the wall in places; use more cells");
}

vug_status vugi_fit_mend(vug_context *ctx, const double *before, vug_mesh *net,
    vugi_inner_wall *wall)
{
    mend m = {.ctx = ctx,
        .before = before,
        .net = net,
        .wall = wall,
        .crossing = vugi_alloc(&ctx->mem, net->vertex_count, 1),
        .moved = vugi_alloc(&ctx->mem, net->vertex_count, 1),
        .tried = vugi_calloc(&ctx->mem, net->vertex_count, 1)};
    vug_status status = m.crossing && m.moved && m.tried ? VUG_OK : vugi_fail_memory(ctx);
    if (!status) {
        memset(m.moved, 1, net->vertex_count);
        status = mend_rounds(&m);
    }
    vugi_free(&ctx->mem, m.crossing);
    vugi_free(&ctx->mem, m.moved);
    vugi_free(&ctx->mem, m.tried);
    return status;
}
