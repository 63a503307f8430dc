/* SPDX-License-Identifier: MIT
 * Surfaces of liquid and bodies of trapped air as meshes, made of the columns: a square for each. */
#include "course/course_types.h"
#include "course/levels.h"

#include "column/column.h"
#include "column/pose.h"

#include <assert.h>
#include <math.h>

typedef struct soup {
    vug_context *ctx;
    const vugi_columns *columns;
    double *xyz;
    uint32_t *triangles;
    size_t vertices, triangle_count, xyz_capacity, triangle_capacity;
} soup;

/* Four corners, counter-clockwise seen from where the face looks. */
static bool add_face(soup *s, const double corner[4][3])
{
    const vugi_allocator *mem = &s->ctx->mem;
    if (!vugi_reserve(mem, &s->xyz, &s->xyz_capacity, 3 * (s->vertices + 4), sizeof *s->xyz)
        || !vugi_reserve(mem, &s->triangles, &s->triangle_capacity, 3 * (s->triangle_count + 2),
            sizeof *s->triangles))
        return false;
    uint32_t v = (uint32_t)s->vertices, *t = s->triangles + 3 * s->triangle_count;
    for (int k = 0; k < 4; k++)
        vugi_to_part(s->columns->basis, corner[k], s->xyz + 3 * s->vertices++);
    const uint32_t order[6] = {v, v + 1, v + 2, v, v + 2, v + 3};
    for (int k = 0; k < 6; k++)
        t[k] = order[k];
    s->triangle_count += 2;
    return true;
}

/* The square of a column at height z, looking up or down. */
static bool add_square(soup *s, uint32_t column, double z, bool up)
{
    const vugi_columns *c = s->columns;
    double r = 0.5 * c->h, x = c->x0 + c->h * (double)(column % (uint32_t)c->nx);
    double y = c->y0 + c->h * (double)(column / (uint32_t)c->nx);
    double corner[4][3] = {{x - r, y - r, z}, {x + r, y - r, z}, {x + r, y + r, z},
        {x - r, y + r, z}};
    if (!up) {
        corner[1][0] = x - r;
        corner[1][1] = y + r;
        corner[3][0] = x + r;
        corner[3][1] = y - r;
    }
    return add_face(s, (const double(*)[3])corner);
}

/* The wall of a column towards side 0 to 3 (+x, +y, -x, -y), from lo to hi. */
static bool add_wall(soup *s, uint32_t column, int side, double lo, double hi)
{
    static const double edge[4][2][2] = {{{1, -1}, {1, 1}}, {{1, 1}, {-1, 1}}, {{-1, 1}, {-1, -1}},
        {{-1, -1}, {1, -1}}};
    const vugi_columns *c = s->columns;
    double r = 0.5 * c->h, x = c->x0 + c->h * (double)(column % (uint32_t)c->nx);
    double y = c->y0 + c->h * (double)(column / (uint32_t)c->nx), corner[4][3];
    for (int k = 0; k < 4; k++) {
        const double *e = edge[side][k == 1 || k == 2];
        corner[k][0] = x + r * e[0];
        corner[k][1] = y + r * e[1];
        corner[k][2] = k < 2 ? lo : hi;
    }
    return hi <= lo || add_face(s, (const double(*)[3])corner);
}

static vug_status finish(soup *s, bool ok, vug_mesh **out)
{
    vug_context *ctx = s->ctx;
    vug_status status = ok ? VUG_OK : vugi_fail_memory(ctx);
    if (!status && s->triangle_count == 0)
        status = vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no such surface at this moment");
    if (!status)
        status = vug_mesh_from_arrays(ctx, s->xyz, s->vertices, 0, s->triangles, s->triangle_count,
            0, out);
    vugi_free(&ctx->mem, s->xyz);
    vugi_free(&ctx->mem, s->triangles);
    return status;
}

vug_status vug_moment_surface(vug_context *ctx, const vug_moment *moment, vug_mesh **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!moment || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "moment or out is NULL");
    const vugi_graph *g = &moment->scene->graph;
    const vugi_columns *c = g->columns;
    double *top = vugi_alloc(&ctx->mem, c->count + 1, sizeof *top);
    if (!top)
        return vugi_fail_memory(ctx);
    vug_status status = vugi_column_levels(ctx, &ctx->mem, moment, top);
    soup s = {.ctx = ctx, .columns = c};
    bool ok = true;
    for (uint32_t i = 0; i < c->count && !status && ok; i++)
        if (top[i] > c->lo[i] && top[i] < c->hi[i])
            ok = add_square(&s, g->sweep.column[i], top[i], true);
    vugi_free(&ctx->mem, top);
    return status ? status : finish(&s, ok, out);
}

/* ---- a pocket ------------------------------------------------------------------ */

typedef struct body {
    const vug_moment *moment;
    const double *top; /* of the liquid in each span */
    uint32_t air;
} body;

static bool holds(const body *b, uint32_t span)
{
    assert(span < b->moment->scene->columns.count);
    const vugi_graph *g = &b->moment->scene->graph;
    uint32_t arc = vugi_arc_at_ceiling(g, span);
    return arc != VUGI_NONE && b->top[span] < g->columns->hi[span]
        && b->moment->links.air[arc] == b->air;
}

/* What of a span's air no span of the next column stands against. Spans come upward. */
static bool add_side(soup *s, const body *b, uint32_t span, uint32_t column, int side,
    int64_t neighbour)
{
    const vugi_columns *c = s->columns;
    double from = b->top[span], hi = c->hi[span];
    for (uint32_t n = neighbour < 0 ? 0 : c->first[neighbour];
         neighbour >= 0 && n < c->first[neighbour + 1]; n++) {
        if (!holds(b, n) || c->hi[n] <= from || b->top[n] >= hi)
            continue;
        if (!add_wall(s, column, side, from, fmin(hi, b->top[n])))
            return false;
        from = fmax(from, c->hi[n]);
    }
    return add_wall(s, column, side, from, hi);
}

static bool add_span(soup *s, const body *b, uint32_t span)
{
    const vugi_columns *c = s->columns;
    uint32_t column = b->moment->scene->graph.sweep.column[span], nx = (uint32_t)c->nx;
    uint32_t x = column % nx, y = column / nx;
    const int64_t next[4] = {x + 1 < nx ? (int64_t)column + 1 : -1,
        y + 1 < (uint32_t)c->ny ? (int64_t)column + nx : -1, x > 0 ? (int64_t)column - 1 : -1,
        y > 0 ? (int64_t)column - nx : -1};
    bool ok = add_square(s, column, b->top[span], false)
        && add_square(s, column, c->hi[span], true);
    for (int side = 0; side < 4 && ok; side++)
        ok = add_side(s, b, span, column, side, next[side]);
    return ok;
}

vug_status vug_moment_pocket_mesh(vug_context *ctx, const vug_moment *moment, size_t index,
    vug_mesh **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!moment || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "moment or out is NULL");
    if (index >= moment->info.pockets)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no pocket %zu, there are %u", index,
            (unsigned)moment->info.pockets);
    const vugi_columns *c = moment->scene->graph.columns;
    double *top = vugi_alloc(&ctx->mem, c->count + 1, sizeof *top);
    if (!top)
        return vugi_fail_memory(ctx);
    vug_status status = vugi_column_levels(ctx, &ctx->mem, moment, top);
    soup s = {.ctx = ctx, .columns = c};
    const body b = {moment, top, moment->pocket_air[index]};
    bool ok = true;
    for (uint32_t i = 0; i < c->count && !status && ok; i++)
        if (holds(&b, i))
            ok = add_span(&s, &b, i);
    vugi_free(&ctx->mem, top);
    return status ? status : finish(&s, ok, out);
}
