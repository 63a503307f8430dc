/* SPDX-License-Identifier: MIT
 * STL out, binary. */
#include "mesh/file.h"
#include "mesh/mesh.h"
#include "mesh/save.h"
#include "mesh/stl_types.h"

#include <math.h>

enum { BATCH = 1024 };

static void put_facet(unsigned char *p, const vug_mesh *mesh, size_t t)
{
    const double *a = mesh->xyz + 3 * (size_t)mesh->triangles[3 * t];
    const double *b = mesh->xyz + 3 * (size_t)mesh->triangles[3 * t + 1];
    const double *c = mesh->xyz + 3 * (size_t)mesh->triangles[3 * t + 2];
    double u[3], v[3];
    for (int k = 0; k < 3; k++) {
        u[k] = b[k] - a[k];
        v[k] = c[k] - a[k];
    }
    double n[3] = {u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]};
    double length = sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
    for (int k = 0; k < 3; k++) {
        vugi_put_float(p + 4 * k, length > 0.0 ? n[k] / length : 0.0);
        vugi_put_float(p + 12 + 4 * k, a[k]);
        vugi_put_float(p + 24 + 4 * k, b[k]);
        vugi_put_float(p + 36 + 4 * k, c[k]);
    }
    p[48] = p[49] = 0;
}

static vug_status write_facets(vug_context *ctx, const vug_mesh *mesh, vugi_file_out *file,
    unsigned char *block)
{
    unsigned char header[VUGI_STL_HEADER] = "binary STL, millimetres, written by vug";
    vugi_put_u32(header + 80, (uint32_t)mesh->triangle_count);
    vugi_file_write(file, header, sizeof header);
    for (size_t first = 0; first < mesh->triangle_count; first += BATCH) {
        size_t n = mesh->triangle_count - first;
        n = n < BATCH ? n : BATCH;
        for (size_t t = 0; t < n; t++)
            put_facet(block + VUGI_STL_FACET * t, mesh, first + t);
        vugi_file_write(file, block, VUGI_STL_FACET * n);
        if (first / BATCH % 64 == 0) {
            vug_status status = vugi_step(ctx, (double)first / (double)mesh->triangle_count);
            if (status)
                return status;
        }
    }
    return VUG_OK;
}

vug_status vug_mesh_save_stl(vug_context *ctx, const vug_mesh *mesh, const char *path)
{
    if (!ctx || !mesh || !path)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx        ? "ctx"
                : !mesh ? "mesh"
                        : "path");
    vugi_progress_begin(ctx, "writing STL");
    vugi_file_out *file = NULL;
    unsigned char *block = vugi_alloc(&ctx->mem, BATCH, VUGI_STL_FACET);
    vug_status status = block ? vugi_file_create(ctx, path, &file) : vugi_fail_memory(ctx);
    if (!status)
        status = write_facets(ctx, mesh, file, block);
    if (status)
        vugi_file_drop(file);
    else
        status = vugi_file_commit(ctx, file);
    vugi_free(&ctx->mem, block);
    return status;
}
