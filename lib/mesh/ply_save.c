/* SPDX-License-Identifier: MIT
 * PLY out: the polygon file format, binary, with a colour for each vertex. */
#include "mesh/ply_save.h"

#include "base/format.h"
#include "mesh/bytes.h"
#include "mesh/file.h"
#include "mesh/mesh.h"

#include <assert.h>
#include <string.h>

enum { BATCH = 1024, VERTEX = 15 /* bytes, at most */, FACE = 13, HEADER = 512 };

static void write_header(const vug_mesh *mesh, bool colours, vugi_file_out *file)
{
    char header[HEADER];
    size_t length = vugi_print(header, sizeof header,
        "ply\nformat binary_little_endian 1.0\ncomment millimetres, written by vug\n"
        "element vertex %zu\nproperty float x\nproperty float y\nproperty float z\n%s"
        "element face %zu\nproperty list uchar int vertex_indices\nend_header\n",
        mesh->vertex_count,
        colours ? "property uchar red\nproperty uchar green\nproperty uchar blue\n" : "",
        mesh->triangle_count);
    vugi_file_write(file, header, length);
}

static size_t put_vertex(unsigned char *p, const vug_mesh *mesh, const uint8_t *rgb, size_t v)
{
    for (size_t k = 0; k < 3; k++)
        vugi_put_float(p + 4 * k, mesh->xyz[3 * v + k]);
    if (rgb)
        memcpy(p + 12, rgb + 3 * v, 3);
    return rgb ? 15 : 12;
}

static size_t put_face(unsigned char *p, const vug_mesh *mesh, size_t t)
{
    assert(t < mesh->triangle_count);
    p[0] = 3;
    for (size_t k = 0; k < 3; k++)
        vugi_put_u32(p + 1 + 4 * k, mesh->triangles[3 * t + k]);
    return FACE;
}

static vug_status write_rows(vug_context *ctx, const vug_mesh *mesh, const uint8_t *rgb,
    vugi_file_out *file, unsigned char *block)
{
    size_t rows = mesh->vertex_count + mesh->triangle_count, used = 0;
    for (size_t row = 0; row < rows; row++) {
        used += row < mesh->vertex_count ? put_vertex(block + used, mesh, rgb, row)
                                         : put_face(block + used, mesh, row - mesh->vertex_count);
        if (used < (size_t)BATCH * VERTEX - VERTEX && row + 1 < rows)
            continue;
        vugi_file_write(file, block, used);
        used = 0;
        vug_status status = vugi_step(ctx, (double)row / (double)rows);
        if (status)
            return status;
    }
    return VUG_OK;
}

vug_status vugi_save_ply(vug_context *ctx, const vug_mesh *mesh, const uint8_t *rgb,
    const char *path)
{
    vugi_progress_begin(ctx, "writing PLY");
    vugi_file_out *file = NULL;
    unsigned char *block = vugi_alloc(&ctx->mem, BATCH, VERTEX);
    vug_status status = block ? vugi_file_create(ctx, path, &file) : vugi_fail_memory(ctx);
    if (!status) {
        write_header(mesh, rgb != NULL, file);
        status = write_rows(ctx, mesh, rgb, file, block);
    }
    if (!status)
        status = vugi_step(ctx, 1.0); /* the last look at cancel: what is committed is there */
    if (status)
        vugi_file_drop(file);
    else
        status = vugi_file_commit(ctx, file);
    vugi_free(&ctx->mem, block);
    return status;
}
