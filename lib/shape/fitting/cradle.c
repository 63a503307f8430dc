/* SPDX-License-Identifier: MIT
 * A block that holds a part in a pose. */
#include "shape/fitting/envelope.h"

#include "shape/bore/bore.h"
#include "shape/bore/row.h"

#include "base/vec.h"
#include "mesh/measure.h"

#include <math.h>
#include <string.h>

static const vug_cradle_options defaults = {.struct_size = sizeof defaults,
    .cells = 160,
    .clearance_mm = 0.3,
    .margin_mm = 5.0,
    .floor_mm = 3.0,
    .free_mm = 2.0};

vug_status vug_cradle_options_init(vug_cradle_options *options, size_t size)
{
    return vugi_struct_init(options, size, &defaults, sizeof defaults);
}

typedef struct block {
    vugi_tool frame;         /* w up */
    double lo[3], hi[3];     /* of the part */
    double base[2], away[2]; /* the base's corners */
    double step, bottom, rim;
    size_t across[2];
    const vug_cradle_options *o;
} block;

static vug_status check_options(vug_context *ctx, const vug_cradle_options *o)
{
    vug_status status = vugi_check_number(ctx, "cells", o->cells, 16.0, 2000.0);
    if (!status)
        status = vugi_check_number(ctx, "clearance_mm", o->clearance_mm, 0.0, 10.0);
    if (!status)
        status = vugi_check_number(ctx, "depth_mm", o->depth_mm, 0.0, 1e6);
    if (!status)
        status = vugi_check_number(ctx, "margin_mm", o->margin_mm, 1.0, 1e3);
    if (!status)
        status = vugi_check_number(ctx, "floor_mm", o->floor_mm, 0.5, 1e3);
    if (!status)
        status = vugi_check_number(ctx, "free_mm", o->free_mm, 0.0, 1e3);
    return status;
}

static vug_status measure_block(vug_context *ctx, const vug_mesh *mesh, block *b)
{
    const vug_cradle_options *o = b->o;
    for (int k = 0; k < 3; k++) {
        b->lo[k] = INFINITY;
        b->hi[k] = -INFINITY;
    }
    for (size_t v = 0; v < mesh->vertex_count; v++) {
        double x[3];
        vugi_tool_local(&b->frame, mesh->xyz + 3 * v, x);
        for (int k = 0; k < 3; k++) {
            b->lo[k] = fmin(b->lo[k], x[k]);
            b->hi[k] = fmax(b->hi[k], x[k]);
        }
    }
    double longest = fmax(b->hi[0] - b->lo[0], b->hi[1] - b->lo[1]) + 2.0 * o->margin_mm;
    b->step = longest / o->cells;
    for (int k = 0; k < 2; k++) {
        b->across[k] = (size_t)ceil((b->hi[k] - b->lo[k] + 2.0 * o->margin_mm) / b->step - 1e-9)
            + 1;
        double side = b->step * (double)(b->across[k] - 1);
        b->base[k] = 0.5 * (b->lo[k] + b->hi[k] - side);
        b->away[k] = b->base[k] + side;
    }
    b->bottom = b->lo[2] - o->clearance_mm - o->floor_mm;
    b->rim = b->lo[2] + (o->depth_mm > 0.0 ? o->depth_mm : (b->hi[2] - b->lo[2]) / 3.0);
    if (o->margin_mm < o->clearance_mm + 3.0 * b->step)
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "margin_mm is %g: with %lu cells and a clearance of %g mm it has to be %.3g at least",
            o->margin_mm, (unsigned long)o->cells, o->clearance_mm,
            o->clearance_mm + 3.0 * b->step);
    return VUG_OK;
}

/* ---- mesh ------------------------------------------------------------------------------------ */

/* Node number i along the block's edge, counter-clockwise from above. */
static size_t edge_node(const block *b, size_t i)
{
    size_t nu = b->across[0] - 1, nv = b->across[1] - 1, row = b->across[0];
    if (i < nu)
        return i;
    if (i < nu + nv)
        return (i - nu) * row + nu;
    if (i < 2 * nu + nv)
        return nv * row + (2 * nu + nv - i);
    return (2 * nu + 2 * nv - i) * row;
}

static void put(uint32_t **row, size_t a, size_t b, size_t c)
{
    const uint32_t corner[3] = {(uint32_t)a, (uint32_t)b, (uint32_t)c};
    memcpy(*row, corner, sizeof corner);
    *row += 3;
}

static void fill_vertices(const block *b, const vugi_envelope *envelope, size_t around, double *xyz)
{
    size_t nodes = b->across[0] * b->across[1];
    for (size_t i = 0; i < nodes + around + 1; i++) {
        size_t node = i < nodes ? i : edge_node(b, i < nodes + around ? i - nodes : 0);
        double x[3] = {b->base[0] + b->step * (double)(node % b->across[0]),
            b->base[1] + b->step * (double)(node / b->across[0]), b->bottom};
        if (i < nodes)
            x[2] = fmin(envelope->w[i] - b->o->clearance_mm, b->rim);
        if (i == nodes + around)
            for (int k = 0; k < 2; k++)
                x[k] = 0.5 * (b->base[k] + b->away[k]);
        vugi_tool_part(&b->frame, x, xyz + 3 * i);
    }
}

static vug_status build(vug_context *ctx, const block *b, const vugi_envelope *envelope,
    vug_mesh **out)
{
    size_t nu = b->across[0], nv = b->across[1], nodes = nu * nv;
    size_t around = 2 * (nu - 1) + 2 * (nv - 1), vertices = nodes + around + 1;
    size_t triangles = 2 * (nu - 1) * (nv - 1) + 3 * around;
    double *xyz = vugi_alloc(&ctx->mem, vertices, 3 * sizeof *xyz);
    uint32_t *row = vugi_alloc(&ctx->mem, triangles, 3 * sizeof *row), *next = row;
    if (!xyz || !row) {
        vugi_free(&ctx->mem, xyz);
        vugi_free(&ctx->mem, row);
        return vugi_fail_memory(ctx);
    }
    fill_vertices(b, envelope, around, xyz);
    for (size_t j = 0; j + 1 < nv; j++)
        for (size_t i = 0; i + 1 < nu; i++) {
            size_t a = j * nu + i;
            put(&next, a, a + 1, a + nu + 1);
            put(&next, a, a + nu + 1, a + nu);
        }
    for (size_t i = 0; i < around; i++) {
        size_t k = (i + 1) % around, top = edge_node(b, i), then = edge_node(b, k);
        put(&next, nodes + i, nodes + k, then);
        put(&next, nodes + i, then, top);
        put(&next, nodes + k, nodes + i, nodes + around);
    }
    *out = vugi_mesh_adopt(&ctx->mem, xyz, vertices, row, triangles);
    return *out ? VUG_OK : vugi_fail_memory(ctx);
}

/* ---- shafts ---------------------------------------------------------------------------------- */

static vug_status check_openings(vug_context *ctx, const double *openings, size_t count)
{
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < 4; k++) {
            double x = openings[4 * i + k];
            if (!isfinite(x) || fabs(x) > VUG_MAX_COORDINATE_MM || (k == 3 && x <= 0.0))
                return vugi_fail(ctx, VUG_ERR_DOMAIN, "opening %zu: %s is %g", i,
                    k == 3 ? "its diameter" : "a coordinate", x);
        }
    return VUG_OK;
}

/* Down through the block below each opening. */
static vug_status free_openings(vug_context *ctx, const block *b, const double *openings,
    size_t count, vug_mesh **mesh)
{
    double *rows = vugi_calloc(&ctx->mem, count, VUG_BORE_ROW * sizeof *rows);
    if (!rows)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < count; i++) {
        double x[3], *row = rows + VUG_BORE_ROW * i;
        vugi_tool_local(&b->frame, openings + 4 * i, x);
        x[2] = b->rim + 1.0;
        vugi_tool_part(&b->frame, x, row + VUGI_BORE_POINT);
        for (int k = 0; k < 3; k++)
            row[VUGI_BORE_DIRECTION + k] = -b->frame.axis[2][k];
        row[VUGI_BORE_DIAMETER] = openings[4 * i + 3] + 2.0 * b->o->free_mm;
        row[VUGI_BORE_DEPTH] = INFINITY;
    }
    vug_mesh *out = NULL;
    vug_status status = vugi_bore_mesh(ctx, *mesh, rows, count, 0.05, NULL, &out);
    vugi_free(&ctx->mem, rows);
    if (!status) {
        vug_mesh_free(*mesh);
        *mesh = out;
    }
    return status;
}

static vug_status make(vug_context *ctx, const vug_mesh *mesh, const block *b, vug_mesh **out)
{
    vugi_carving carving;
    vugi_reachable list = {NULL, 0, 0};
    vugi_envelope envelope = {.mem = ctx->mem};
    uint8_t *mark = vugi_alloc(&ctx->mem, mesh->vertex_count, 1);
    bool memory = vugi_carving_begin(&carving, &ctx->mem, mesh) && mark
        && vugi_reachable_find(&carving, &b->frame, INFINITY, mark, &list);
    vug_status status = memory ? vugi_envelope_make(ctx, &carving, &b->frame, &list, b->base,
                            b->away, b->step, b->lo[2] - 1.0, &envelope)
                               : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_envelope_widen(ctx, &envelope, b->o->clearance_mm);
    if (!status)
        status = build(ctx, b, &envelope, out);
    vugi_envelope_free(&envelope);
    vugi_carving_free(&carving);
    vugi_free(&ctx->mem, list.triangle);
    vugi_free(&ctx->mem, mark);
    return status;
}

/* From the centre of mass of the solid to the base's edge. */
static vug_status measure_stand(vug_context *ctx, const vug_mesh *mesh, const block *b,
    double *stand)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    vug_status status = vugi_mesh_measure(ctx, mesh, &m);
    if (status)
        return status;
    double x[3];
    vugi_tool_local(&b->frame, m.centroid_mm, x);
    *stand = INFINITY;
    for (int k = 0; k < 2; k++)
        *stand = fmin(*stand, fmin(x[k] - b->base[k], b->away[k] - x[k]));
    return VUG_OK;
}

vug_status vug_shape_cradle(vug_context *ctx, const vug_mesh *mesh, const double *up,
    const double *openings, size_t opening_count, const vug_cradle_options *options,
    double *stand_mm, vug_mesh **out)
{
    if (!ctx || !mesh || !up || (!openings && opening_count > 0) || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx        ? "ctx"
                : !mesh ? "mesh"
                : !up   ? "up"
                : !out  ? "out"
                        : "openings");
    vug_cradle_options own = defaults;
    vug_status status = vugi_struct_read(ctx, &own, sizeof own, options, "vug_cradle_options");
    if (!status)
        status = check_options(ctx, &own);
    if (!status)
        status = check_openings(ctx, openings, opening_count);
    if (status)
        return status;
    double direction[3] = {up[0], up[1], up[2]}, length = vugi_normalise(direction), stand = 0.0;
    if (!(length > 0.0) || !isfinite(length))
        return vugi_fail(ctx, VUG_ERR_DOMAIN, "up has no length");
    vugi_progress_begin(ctx, "fitting a cradle");
    block b = {.o = &own};
    vugi_tool_frame(&b.frame, mesh->lo, direction);
    vug_mesh *made = NULL;
    status = measure_block(ctx, mesh, &b);
    if (!status)
        status = make(ctx, mesh, &b, &made);
    if (!status && opening_count > 0)
        status = free_openings(ctx, &b, openings, opening_count, &made);
    if (!status)
        status = measure_stand(ctx, mesh, &b, &stand);
    if (status) {
        vug_mesh_free(made);
        return status;
    }
    if (stand_mm)
        *stand_mm = stand;
    *out = made;
    return VUG_OK;
}
