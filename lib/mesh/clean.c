/* SPDX-License-Identifier: MIT
 * Repair: the order of the steps, options and report. */
#include "mesh/clean.h"

#include "mesh/clean_double.h"
#include "mesh/clean_drop.h"
#include "mesh/clean_gaps.h"
#include "mesh/clean_turn.h"
#include "mesh/measure.h"
#include "mesh/sums.h"
#include "mesh/tally.h"

#include <math.h>
#include <string.h>

static const vug_mesh_clean_options clean_defaults = {.struct_size = sizeof(vug_mesh_clean_options),
    .close_gaps = 1,
    .turn = 1};

vug_status vug_mesh_clean_options_init(vug_mesh_clean_options *options, size_t size)
{
    return vugi_struct_init(options, size, &clean_defaults, sizeof clean_defaults);
}

/* ---- the working copy --------------------------------------------------------------------- */

static vug_status copy_mesh(vugi_clean *c, const vug_mesh *mesh)
{
    const vugi_allocator *mem = &c->ctx->mem;
    c->mesh.mem = *mem;
    c->mesh.vertex_count = mesh->vertex_count;
    c->mesh.triangle_count = c->capacity = mesh->triangle_count;
    c->mesh.xyz = vugi_alloc(mem, mesh->vertex_count, 3 * sizeof *c->mesh.xyz);
    c->mesh.triangles = vugi_alloc(mem, mesh->triangle_count, 3 * sizeof *c->mesh.triangles);
    if (!c->mesh.xyz || !c->mesh.triangles)
        return vugi_fail_memory(c->ctx);
    memcpy(c->mesh.xyz, mesh->xyz, 3 * mesh->vertex_count * sizeof *mesh->xyz);
    memcpy(c->mesh.triangles, mesh->triangles, 3 * mesh->triangle_count * sizeof *mesh->triangles);
    memcpy(c->mesh.lo, mesh->lo, sizeof mesh->lo);
    memcpy(c->mesh.hi, mesh->hi, sizeof mesh->hi);
    return VUG_OK;
}

/* Three corners in line leave a T-joint behind, so they stay when gaps are not to be closed. */
static bool is_degenerate(const vugi_clean *c, const uint32_t *v)
{
    const double *xyz = c->mesh.xyz;
    return vugi_triangle_collapsed(v)
        || (c->gaps
            && vugi_triangle_degenerate(xyz + 3 * (size_t)v[0], xyz + 3 * (size_t)v[1],
                xyz + 3 * (size_t)v[2]));
}

vug_status vugi_clean_degenerate(vugi_clean *c)
{
    unsigned char *gone = vugi_alloc(&c->ctx->mem, c->mesh.triangle_count, 1);
    if (!gone)
        return vugi_fail_memory(c->ctx);
    for (size_t t = 0; t < c->mesh.triangle_count; t++)
        gone[t] = is_degenerate(c, c->mesh.triangles + 3 * t);
    c->report.degenerate_removed += vugi_clean_drop(c, gone);
    vugi_free(&c->ctx->mem, gone);
    return VUG_OK;
}

/* Leaves out vertices that no triangle names any more. */
static vug_status drop_vertices(vugi_clean *c)
{
    vug_mesh *m = &c->mesh;
    uint32_t *number = vugi_calloc(&c->ctx->mem, m->vertex_count, sizeof *number);
    if (!number)
        return vugi_fail_memory(c->ctx);
    for (size_t i = 0; i < 3 * m->triangle_count; i++)
        number[m->triangles[i]] = 1;
    uint32_t kept = 0;
    for (size_t v = 0; v < m->vertex_count; v++) {
        if (!number[v])
            continue;
        memmove(m->xyz + 3 * (size_t)kept, m->xyz + 3 * v, 3 * sizeof *m->xyz);
        number[v] = kept++;
    }
    for (size_t i = 0; i < 3 * m->triangle_count; i++)
        m->triangles[i] = number[m->triangles[i]];
    m->vertex_count = kept;
    vugi_free(&c->ctx->mem, number);
    return VUG_OK;
}

/* ---- the steps -------------------------------------------------------------------------------- */

static vug_status count_faults(vugi_clean *c, int32_t *closed, uint64_t *open)
{
    vugi_edges edges;
    vug_mesh_measures m = {.struct_size = sizeof m};
    vug_status status = vugi_edges_build(c->ctx, &c->mesh, &edges);
    if (status)
        return status;
    status = vugi_edges_tally(c->ctx, &c->mesh, &edges, NULL, 1, &m);
    vugi_edges_free(c->ctx, &edges);
    *closed = m.closed;
    *open = m.edges_open;
    return status;
}

static double longest_side(const vug_mesh *mesh)
{
    double side = 0.0;
    for (int k = 0; k < 3; k++)
        side = fmax(side, mesh->hi[k] - mesh->lo[k]);
    return side;
}

static vug_status run_steps(vugi_clean *c, const vug_mesh_clean_options *options)
{
    static vug_status (*const steps[])(vugi_clean *) = {vugi_clean_weld, vugi_clean_degenerate,
        vugi_clean_split_joints, vugi_clean_degenerate, vugi_clean_duplicates, vugi_clean_turn,
        vugi_clean_shells};
    enum { STEPS = sizeof steps / sizeof *steps };
    vug_status status = VUG_OK;
    for (int i = 0; !status && i < STEPS; i++) {
        bool gaps = i == 0 || i == 2, turns = i >= 5;
        if ((gaps && !options->close_gaps) || (turns && !options->turn))
            continue;
        status = vugi_step(c->ctx, (double)i / STEPS);
        if (!status)
            status = steps[i](c);
        if (!status && c->mesh.triangle_count == 0)
            status = vugi_fail(c->ctx, VUG_ERR_MESH, "no triangle with an area is left");
    }
    return status;
}

/* What was changed and assumed, in words. */
static void tell(const vugi_clean *c)
{
    const vug_mesh_clean_report *r = &c->report;
    const struct {
        uint64_t count;
        const char *text;
    } found[] = {
        {r->vertices_welded, "vertices at gaps moved onto a neighbour"},
        {r->joints_split, "T-joints: vertices put into the edge they lay on"},
        {r->degenerate_removed, "triangles without area removed"},
        {r->duplicates_removed, "triangles that were there twice removed"},
        {r->triangles_turned, "triangles turned to agree with their neighbours"},
        {r->shells_turned, "shells turned: outward at even depth, inward inside another"},
        {r->shells_open, "shells stay open"},
        {r->shells_twisted, "shells cannot be turned consistently"},
        {r->shells_crossing, "shells overlap others; each keeps its own volume"},
    };
    for (size_t i = 0; i < sizeof found / sizeof *found; i++)
        if (found[i].count)
            vugi_warn(c->ctx, "mesh: %llu %s", (unsigned long long)found[i].count, found[i].text);
}

static vug_status check_options(vug_context *ctx, const vug_mesh_clean_options *options)
{
    if (options->tolerance_mm >= 0.0 && options->tolerance_mm <= VUG_MAX_COORDINATE_MM)
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_ARGUMENT, "tolerance_mm is %g; it must be 0 or more",
        options->tolerance_mm);
}

static vug_status clean_copy(vugi_clean *c, const vug_mesh_clean_options *options)
{
    vug_mesh_clean_report *r = &c->report;
    c->tolerance = options->tolerance_mm > 0.0 ? options->tolerance_mm
                                               : 1e-5 * longest_side(&c->mesh);
    c->gaps = options->close_gaps != 0;
    r->tolerance_mm = options->close_gaps ? c->tolerance : 0.0;
    r->triangles_before = c->mesh.triangle_count;
    vug_status status = count_faults(c, &r->closed_before, &r->edges_open_before);
    if (!status)
        status = run_steps(c, options);
    if (!status)
        status = drop_vertices(c);
    if (!status)
        status = count_faults(c, &r->closed_after, &r->edges_open_after);
    r->triangles_after = c->mesh.triangle_count;
    return status;
}

vug_status vug_mesh_clean(vug_context *ctx, const vug_mesh *mesh,
    const vug_mesh_clean_options *options, vug_mesh **out, vug_mesh_clean_report *report)
{
    vug_mesh_clean_options own = clean_defaults;
    if (!ctx || !mesh || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx        ? "ctx"
                : !mesh ? "mesh"
                        : "out");
    vug_status status = vugi_struct_read(ctx, &own, sizeof own, options, "vug_mesh_clean_options");
    if (!status)
        status = check_options(ctx, &own);
    if (!status && report)
        status = vugi_struct_check(ctx, report, "vug_mesh_clean_report");
    if (status)
        return status;
    vugi_progress_begin(ctx, "repairing");
    vugi_clean c = {.ctx = ctx, .report = {.struct_size = sizeof c.report}};
    vug_mesh *cleaned = NULL;
    status = copy_mesh(&c, mesh);
    if (!status)
        status = clean_copy(&c, &own);
    if (!status) {
        cleaned = vugi_mesh_adopt(&ctx->mem, c.mesh.xyz, c.mesh.vertex_count, c.mesh.triangles,
            c.mesh.triangle_count);
        c.mesh.xyz = NULL;
        c.mesh.triangles = NULL;
        status = cleaned ? VUG_OK : vugi_fail_memory(ctx);
    }
    if (!status)
        cleaned->unit_mm = mesh->unit_mm;
    if (!status && report)
        status = vugi_struct_write(ctx, report, &c.report, sizeof c.report,
            "vug_mesh_clean_report");
    if (!status) {
        tell(&c);
        *out = cleaned;
    }
    vugi_free(&ctx->mem, c.mesh.xyz);
    vugi_free(&ctx->mem, c.mesh.triangles);
    return status;
}
