/* SPDX-License-Identifier: MIT
 * A mesh from arrays, its owners and its getters. */
#include "mesh/mesh.h"
#include "base/vec.h"
#include "mesh/weld.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <string.h>

/* ---- life ------------------------------------------------------------------- */

static void find_bounds(vug_mesh *mesh)
{
    for (int k = 0; k < 3; k++) {
        mesh->lo[k] = mesh->vertex_count ? mesh->xyz[k] : 0.0;
        mesh->hi[k] = mesh->lo[k];
    }
    for (size_t v = 1; v < mesh->vertex_count; v++) {
        for (int k = 0; k < 3; k++) {
            double x = mesh->xyz[3 * v + (size_t)k];
            mesh->lo[k] = x < mesh->lo[k] ? x : mesh->lo[k];
            mesh->hi[k] = x > mesh->hi[k] ? x : mesh->hi[k];
        }
    }
}

vug_mesh *vugi_mesh_adopt(const vugi_allocator *mem, double *xyz, size_t vertex_count,
    uint32_t *triangles, size_t triangle_count)
{
    vug_mesh *mesh = vugi_calloc(mem, 1, sizeof *mesh);
    if (!mesh) {
        vugi_free(mem, xyz);
        vugi_free(mem, triangles);
        return NULL;
    }
    mesh->mem = *mem;
    atomic_init(&mesh->owners, 1);
    mesh->vertex_count = vertex_count;
    mesh->triangle_count = triangle_count;
    mesh->xyz = xyz;
    mesh->triangles = triangles;
    mesh->unit_mm = 1.0;
    find_bounds(mesh);
    return mesh;
}

double vugi_mesh_grain(const vug_mesh *mesh)
{
    double far = 0.0;
    for (int k = 0; k < 3; k++)
        far = fmax(far, fmax(fabs(mesh->lo[k]), fabs(mesh->hi[k])));
    return far * (double)FLT_EPSILON / sqrt(12.0); /* evenly spread over a step */
}

vug_mesh *vugi_mesh_share(const vug_mesh *mesh)
{
    /* The count of owners is the one thing about a mesh that changes. */
    vug_mesh *own;
    memcpy(&own, &mesh, sizeof own);
    atomic_fetch_add_explicit(&own->owners, 1, memory_order_relaxed);
    return own;
}

void vug_mesh_free(vug_mesh *mesh)
{
    if (!mesh || atomic_fetch_sub_explicit(&mesh->owners, 1, memory_order_acq_rel) != 1)
        return;
    vugi_allocator mem = mesh->mem;
    vugi_free(&mem, mesh->xyz);
    vugi_free(&mem, mesh->triangles);
    if (mesh->kept)
        mesh->free_kept(mesh->kept);
    vugi_free(&mem, mesh);
}

/* ---- getters ---------------------------------------------------------------- */

size_t vug_mesh_vertex_count(const vug_mesh *mesh)
{
    return mesh ? mesh->vertex_count : 0;
}

size_t vug_mesh_triangle_count(const vug_mesh *mesh)
{
    return mesh ? mesh->triangle_count : 0;
}

const double *vug_mesh_vertices(const vug_mesh *mesh)
{
    return mesh ? mesh->xyz : NULL;
}

vug_status vug_mesh_vertices_float(const vug_mesh *mesh, const double *origin, float *xyz)
{
    if (!mesh || !xyz)
        return VUG_ERR_ARGUMENT;
    const double zero[3] = {0.0, 0.0, 0.0}, *from = origin ? origin : zero;
    for (size_t i = 0; i < 3 * mesh->vertex_count; i++)
        xyz[i] = (float)(mesh->xyz[i] - from[i % 3]);
    return VUG_OK;
}

const uint32_t *vug_mesh_triangles(const vug_mesh *mesh)
{
    return mesh ? mesh->triangles : NULL;
}

/* ---- from arrays ------------------------------------------------------------- */

vug_status vugi_mesh_check_point(vug_context *ctx, const double p[3], const char *what,
    size_t number)
{
    for (int k = 0; k < 3; k++) {
        if (!isfinite(p[k]))
            return vugi_fail(ctx, VUG_ERR_MESH, "%s %zu: coordinate %c is not a finite number",
                what, number, 'x' + k);
        if (fabs(p[k]) > VUG_MAX_COORDINATE_MM)
            return vugi_fail(ctx, VUG_ERR_LIMIT,
                "%s %zu: coordinate %c is %g, the limit is %g mm; check the unit of the model",
                what, number, 'x' + k, p[k], (double)VUG_MAX_COORDINATE_MM);
    }
    return VUG_OK;
}

static vug_status check_arrays(vug_context *ctx, const double *xyz, size_t vertex_count,
    size_t xyz_stride, const uint32_t *triangles, size_t triangle_count, size_t triangle_stride)
{
    if (!xyz || !triangles)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL", xyz ? "triangles" : "xyz");
    if (xyz_stride < 3 * sizeof *xyz)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "xyz_stride is %zu bytes, a row has %zu",
            xyz_stride, 3 * sizeof *xyz);
    if (triangle_stride < 3 * sizeof *triangles)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "triangle_stride is %zu bytes, a row has %zu",
            triangle_stride, 3 * sizeof *triangles);
    if (triangle_count == 0)
        return vugi_fail(ctx, VUG_ERR_MESH, "the mesh has no triangle");
    if (triangle_count > VUG_MAX_TRIANGLES)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "%zu triangles; the limit is %d", triangle_count,
            VUG_MAX_TRIANGLES);
    if (vertex_count > UINT32_MAX)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "%zu vertices; the limit is %lu", vertex_count,
            (unsigned long)UINT32_MAX);
    return VUG_OK;
}

/* Copies the triangles and marks the vertices they name. */
static vug_status copy_triangles(vug_context *ctx, const uint32_t *from, size_t count,
    size_t stride, size_t vertex_count, uint32_t *to, unsigned char *used)
{
    for (size_t t = 0; t < count; t++) {
        memcpy(to + 3 * t, (const unsigned char *)from + t * stride, 3 * sizeof *to);
        for (size_t k = 0; k < 3; k++) {
            if (to[3 * t + k] >= vertex_count)
                return vugi_fail(ctx, VUG_ERR_MESH,
                    "triangle %zu names vertex %lu, but there are %zu, numbered from 0", t,
                    (unsigned long)to[3 * t + k], vertex_count);
            used[to[3 * t + k]] = 1;
        }
    }
    return VUG_OK;
}

/* Welds the vertices in use; number[v] is the new number of vertex v. */
static vug_status weld_vertices(vug_context *ctx, const double *xyz, size_t count, size_t stride,
    const unsigned char *used, vugi_weld *weld, uint32_t *number)
{
    for (size_t v = 0; v < count; v++) {
        double p[3];
        memcpy(p, (const unsigned char *)xyz + v * stride, sizeof p);
        vug_status status = vugi_mesh_check_point(ctx, p, "vertex", v);
        if (!status && used[v])
            status = vugi_weld_points(ctx, weld, p, 1, number + v);
        if (!status && v % 262144 == 0)
            status = vugi_step(ctx, (double)v / (double)count);
        if (status)
            return status;
    }
    return VUG_OK;
}

vug_status vug_mesh_from_arrays(vug_context *ctx, const double *xyz, size_t vertex_count,
    size_t xyz_stride, const uint32_t *triangles, size_t triangle_count, size_t triangle_stride,
    vug_mesh **out)
{
    if (!ctx || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL", ctx ? "out" : "ctx");
    xyz_stride = xyz_stride ? xyz_stride : 3 * sizeof *xyz;
    triangle_stride = triangle_stride ? triangle_stride : 3 * sizeof *triangles;
    vug_status status = check_arrays(ctx, xyz, vertex_count, xyz_stride, triangles, triangle_count,
        triangle_stride);
    if (status)
        return status;

    vugi_progress_begin(ctx, "taking a mesh");
    const vugi_allocator *mem = &ctx->mem;
    vugi_weld weld = {.mem = NULL};
    uint32_t *own = vugi_alloc(mem, triangle_count, 3 * sizeof *own);
    uint32_t *number = vugi_alloc(mem, vertex_count, sizeof *number);
    unsigned char *used = vugi_calloc(mem, vertex_count, 1);
    status = own && number && used ? vugi_weld_begin(ctx, &weld, vertex_count)
                                   : vugi_fail_memory(ctx);
    if (!status)
        status = copy_triangles(ctx, triangles, triangle_count, triangle_stride, vertex_count, own,
            used);
    if (!status)
        status = weld_vertices(ctx, xyz, vertex_count, xyz_stride, used, &weld, number);
    if (status)
        goto done;
    for (size_t i = 0; i < 3 * triangle_count; i++)
        own[i] = number[own[i]];
    status = vugi_mesh_from_weld(ctx, &weld, own, triangle_count, out);
    own = NULL;
done:
    vugi_weld_free(&weld);
    vugi_free(mem, own);
    vugi_free(mem, number);
    vugi_free(mem, used);
    return status;
}

vug_status vugi_mesh_from_weld(vug_context *ctx, vugi_weld *weld, uint32_t *triangles,
    size_t triangle_count, vug_mesh **out)
{
    size_t vertex_count = weld->count;
    double *xyz = vugi_weld_take(weld);
    vug_mesh *mesh = vugi_mesh_adopt(&ctx->mem, xyz, vertex_count, triangles, triangle_count);
    if (!mesh)
        return vugi_fail_memory(ctx);
    vug_status status = vugi_step(ctx, 1.0);
    if (status)
        vug_mesh_free(mesh);
    else
        *out = mesh;
    return status;
}

double vugi_triangle_normal(const vug_mesh *mesh, size_t t, double normal[3])
{
    assert(t < mesh->triangle_count);
    const uint32_t *v = mesh->triangles + 3 * t;
    const double *a = mesh->xyz + 3 * (size_t)v[0];
    vugi_triangle_cross(a, mesh->xyz + 3 * (size_t)v[1], mesh->xyz + 3 * (size_t)v[2], normal);
    return 0.5 * vugi_normalise(normal);
}

double vugi_triangle_area(const vug_mesh *mesh, size_t t)
{
    double normal[3];
    return vugi_triangle_normal(mesh, t, normal);
}
