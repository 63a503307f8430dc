/* SPDX-License-Identifier: MIT
 * Each triangle spans a tetrahedron with the origin; their signed volumes and moments add up to
 * those of the solid (divergence theorem; B. Mirtich, Fast and accurate computation of polyhedral
 * mass properties, Journal of Graphics Tools 1(2), 1996). */
#include "mesh/measure.h"
#include "mesh/shells.h"

#include <math.h>

enum { CHUNK = 4096 }; /* triangles summed one after another, whatever the number of threads */

static void cross(const double a[3], const double b[3], double out[3])
{
    out[0] = a[1] * b[2] - a[2] * b[1];
    out[1] = a[2] * b[0] - a[0] * b[2];
    out[2] = a[0] * b[1] - a[1] * b[0];
}

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* The cross product of two sides is exact to about 2^-53 of their product: less is nothing. */
static bool vanishes(const double normal[3], const double u[3], const double v[3])
{
    double limit = 0x1p-50;
    return dot(normal, normal) <= limit * limit * dot(u, u) * dot(v, v);
}

static void sides(const double *a, const double *b, const double *c, double u[3], double v[3])
{
    for (int k = 0; k < 3; k++) {
        u[k] = b[k] - a[k];
        v[k] = c[k] - a[k];
    }
}

bool vugi_triangle_degenerate(const double *a, const double *b, const double *c)
{
    double u[3], v[3], normal[3];
    sides(a, b, c, u, v);
    cross(u, v, normal);
    return vanishes(normal, u, v);
}

void vugi_sums_triangle(vugi_sums *sums, const vug_mesh *mesh, size_t t, const double origin[3])
{
    const uint32_t *corner = mesh->triangles + 3 * t;
    double p[3][3], u[3], v[3], normal[3];
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            p[i][k] = mesh->xyz[3 * (size_t)corner[i] + (size_t)k] - origin[k];
    sides(p[0], p[1], p[2], u, v);
    cross(u, v, normal);
    if (vanishes(normal, u, v))
        sums->degenerate++;
    double volume6 = dot(p[0], normal);
    double area2 = sqrt(dot(normal, normal));
    sums->volume6 += volume6;
    sums->area2 += area2;
    for (int k = 0; k < 3; k++) {
        double corners = p[0][k] + p[1][k] + p[2][k];
        sums->solid24[k] += volume6 * corners;
        sums->skin6[k] += area2 * corners;
    }
}

void vugi_sums_add(vugi_sums *sums, const vugi_sums *more)
{
    sums->volume6 += more->volume6;
    sums->area2 += more->area2;
    for (int k = 0; k < 3; k++) {
        sums->solid24[k] += more->solid24[k];
        sums->skin6[k] += more->skin6[k];
    }
    sums->degenerate += more->degenerate;
}

void vugi_sums_finish(const vugi_sums *sums, const double origin[3], vug_mesh_measures *measures)
{
    measures->volume_mm3 = sums->volume6 / 6.0;
    measures->area_mm2 = sums->area2 / 2.0;
    measures->degenerate = sums->degenerate;
    /* A volume that is all rounding says nothing about where its centre is. */
    double width = 0.0;
    for (int k = 0; k < 3; k++)
        width = fmax(width, measures->hi_mm[k] - measures->lo_mm[k]);
    bool solid = measures->closed && fabs(sums->volume6) > 1e-12 * width * sums->area2;
    for (int k = 0; k < 3; k++) {
        double middle = 0.5 * (measures->lo_mm[k] + measures->hi_mm[k]);
        if (solid)
            middle = origin[k] + sums->solid24[k] / (4.0 * sums->volume6);
        else if (sums->area2 > 0.0)
            middle = origin[k] + sums->skin6[k] / (3.0 * sums->area2);
        measures->centroid_mm[k] = middle;
    }
}

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
