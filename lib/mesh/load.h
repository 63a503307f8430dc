/* SPDX-License-Identifier: MIT
 * Files in any format: which one it is, and the readers that other libraries lend. */
#ifndef VUGI_MESH_LOAD_H
#define VUGI_MESH_LOAD_H

#include "mesh/gather.h"
#include "mesh/mesh.h"

/* Readers: the pieces of the file into gather, scaled to mm by unit_mm (0: by the
 * unit the file or its format has, else 1). */
vug_status vugi_read_assimp(vugi_gather *gather, int32_t format, const unsigned char *data,
    size_t size, double unit_mm);
vug_status vugi_read_3mf(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm);

/* Writes a 3MF of one object; closed: it is a solid, else a surface. */
vug_status vugi_write_3mf(vug_context *ctx, const vug_mesh *mesh, bool closed, const char *path);

#endif
