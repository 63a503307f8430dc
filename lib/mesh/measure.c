/* SPDX-License-Identifier: MIT
 * Each triangle spans a tetrahedron with the origin; their signed volumes and moments add up to
 * those of the solid (divergence theorem; B. Mirtich, Fast and accurate computation of polyhedral
 * mass properties, Journal of Graphics Tools 1(2), 1996). */
#include "mesh/measure.h"

#include "mesh/shells.h"
#include "mesh/sums.h"

#include <math.h>

enum { CHUNK = 4096 }; /* triangles summed one after another, whatever the number of threads */

/* ---- edges --------------------------------------------------------------------- */

typedef struct tally {
    uint32_t count;
    int64_t balance;
} tally;

static void close_tally(tally *piece, vug_mesh_measures *measures)
{
    if (piece->count == 1)
        measures->edges_open++;
    else if (piece->balance != 0)
        measures->edges_flipped++;
    if (piece->count > 2)
        measures->edges_nonmanifold++;
    piece->count = 0;
    piece->balance = 0;
}

vug_status vugi_edges_tally(vug_context *ctx, const vug_mesh *mesh, const vugi_edges *edges,
    const uint32_t *of, size_t piece_count, vug_mesh_measures *measures)
{
    tally *pieces = vugi_calloc(&ctx->mem, piece_count, sizeof *pieces);
    if (!pieces)
        return vugi_fail_memory(ctx);
    for (size_t first = 0, end; first < edges->count; first = end) {
        end = vugi_edges_next(mesh, edges, first);
        for (size_t i = first; i < end; i++) {
            uint32_t half = edges->half[i];
            tally *piece = &pieces[of ? of[half / 3] : 0];
            piece->count++;
            piece->balance += vugi_edge_from(mesh, half) < vugi_edge_to(mesh, half) ? 1 : -1;
        }
        for (size_t i = first; i < end; i++) {
            size_t piece = of ? of[edges->half[i] / 3] : 0;
            if (pieces[piece].count)
                close_tally(&pieces[piece], &measures[piece]);
        }
    }
    for (size_t p = 0; p < piece_count; p++)
        measures[p].closed = measures[p].edges_open == 0 && measures[p].edges_flipped == 0;
    vugi_free(&ctx->mem, pieces);
    return VUG_OK;
}

/* ---- the whole mesh -------------------------------------------------------------- */

static const vug_mesh_measures measures_defaults = {.struct_size = sizeof(vug_mesh_measures)};

vug_status vug_mesh_measures_init(vug_mesh_measures *measures, size_t size)
{
    return vugi_struct_init(measures, size, &measures_defaults, sizeof measures_defaults);
}

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
    vug_mesh_measures own = measures_defaults;
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
