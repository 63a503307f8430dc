/* SPDX-License-Identifier: MIT
 * STL out, binary. */
#include "mesh/stl_save.h"

#include "base/vec.h"
#include "mesh/bytes.h"
#include "mesh/file.h"
#include "mesh/mesh.h"
#include "mesh/stl_types.h"

#include <assert.h>
#include <math.h>

enum { BATCH = 1024 };

static void put_facet(unsigned char *p, const vug_mesh *mesh, size_t t)
{
    assert(t < mesh->triangle_count);
    const double *a = mesh->xyz + 3 * (size_t)mesh->triangles[3 * t];
    const double *b = mesh->xyz + 3 * (size_t)mesh->triangles[3 * t + 1];
    const double *c = mesh->xyz + 3 * (size_t)mesh->triangles[3 * t + 2];
    double n[3];
    vugi_triangle_cross(a, b, c, n);
    vugi_normalise(n);
    for (int k = 0; k < 3; k++) {
        vugi_put_float(p + 4 * k, n[k]);
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

vug_status vugi_save_stl(vug_context *ctx, const vug_mesh *mesh, const char *path)
{
    vugi_progress_begin(ctx, "writing STL");
    vugi_file_out *file = NULL;
    unsigned char *block = vugi_alloc(&ctx->mem, BATCH, VUGI_STL_FACET);
    vug_status status = block ? vugi_file_create(ctx, path, &file) : vugi_fail_memory(ctx);
    if (!status)
        status = write_facets(ctx, mesh, file, block);
    if (!status)
        status = vugi_step(ctx, 1.0); /* the last look at cancel: what is committed is there */
    if (status)
        vugi_file_drop(file);
    else
        status = vugi_file_commit(ctx, file);
    vugi_free(&ctx->mem, block);
    return status;
}
