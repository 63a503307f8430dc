/* SPDX-License-Identifier: MIT
 * Each triangle spans a tetrahedron with the origin; their signed volumes and moments add up to
 * those of the solid (divergence theorem; B. Mirtich, Fast and accurate computation of polyhedral
 * mass properties, Journal of Graphics Tools 1(2), 1996). */
#include "mesh/measure.h"

#include "mesh/shells.h"
#include "mesh/sums.h"
#include "mesh/tally.h"

#include <math.h>

enum { CHUNK = 4096 }; /* triangles summed one after another, whatever the number of threads */

/* ---- the whole mesh -------------------------------------------------------------- */

static vug_status sum_mesh(vug_context *ctx, const vug_mesh *mesh, const double origin[3],
    vugi_sums *total)
{
    size_t chunks = (mesh->triangle_count + CHUNK - 1) / CHUNK;
    vugi_sums *part = vugi_calloc(&ctx->mem, chunks, sizeof *part);
    if (!part)
        return vugi_fail_memory(ctx);
    int threads = vugi_threads(ctx, chunks);
    (void)threads;
#pragma omp parallel for num_threads(threads) schedule(static)
    for (size_t c = 0; c < chunks; c++) {
        size_t end = (c + 1) * CHUNK < mesh->triangle_count ? (c + 1) * CHUNK
                                                            : mesh->triangle_count;
        for (size_t t = c * CHUNK; t < end; t++)
            vugi_sums_triangle(&part[c], mesh, t, origin);
    }
    *total = (vugi_sums){.volume6 = 0.0};
    for (size_t c = 0; c < chunks; c++)
        vugi_sums_add(total, &part[c]);
    vugi_free(&ctx->mem, part);
    return VUG_OK;
}

static vug_status count_edges(vug_context *ctx, const vug_mesh *mesh, vug_mesh_measures *measures)
{
    vugi_edges edges;
    uint32_t *of = NULL;
    vug_status status = vugi_edges_build(ctx, mesh, &edges);
    if (status)
        return status;
    status = vugi_step(ctx, 0.4);
    if (!status)
        status = vugi_edges_tally(ctx, mesh, &edges, NULL, 1, measures);
    if (!status)
        status = vugi_step(ctx, 0.6);
    if (!status)
        status = vugi_shells_number(ctx, mesh, &edges, &of, &measures->shells);
    if (!status)
        status = vugi_step(ctx, 0.9);
    vugi_free(&ctx->mem, of);
    vugi_edges_free(ctx, &edges);
    return status;
}

vug_status vug_mesh_measure(vug_context *ctx, const vug_mesh *mesh, vug_mesh_measures *measures)
{
    if (!ctx || !mesh || !measures)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx        ? "ctx"
                : !mesh ? "mesh"
                        : "measures");
    vugi_progress_begin(ctx, "measuring");
    return vugi_mesh_measure(ctx, mesh, measures);
}

vug_status vugi_mesh_measure(vug_context *ctx, const vug_mesh *mesh, vug_mesh_measures *measures)
{
    vug_mesh_measures own = {.struct_size = sizeof own};
    double origin[3];
    for (int k = 0; k < 3; k++) {
        own.lo_mm[k] = mesh->lo[k];
        own.hi_mm[k] = mesh->hi[k];
        origin[k] = 0.5 * (mesh->lo[k] + mesh->hi[k]);
    }
    own.vertices = mesh->vertex_count;
    own.triangles = mesh->triangle_count;
    vugi_sums sums;
    vug_status status = count_edges(ctx, mesh, &own);
    if (!status)
        status = sum_mesh(ctx, mesh, origin, &sums);
    if (!status)
        status = vugi_step(ctx, 1.0);
    if (status)
        return status;
    vugi_sums_finish(&sums, origin, &own);
    return vugi_struct_write(ctx, measures, &own, sizeof own, "vug_mesh_measures");
}
