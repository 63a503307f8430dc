/* SPDX-License-Identifier: MIT
 * Files in any format: which one it is, and the readers that other libraries lend. */
#ifndef VUGI_MESH_LOAD_H
#define VUGI_MESH_LOAD_H

#include "mesh/format.h"
#include "mesh/gather.h"
#include "mesh/mesh.h"

/* By what the file begins with, and where that is not clear, by the end of its name. */
vugi_format vugi_format_of(const char *path, const unsigned char *data, size_t size);

/* Readers: the pieces of the file into gather, scaled to mm by unit_mm (0: by the
 * unit the file or its format has, else 1). */
vug_status vugi_read_assimp(vugi_gather *gather, vugi_format format, const unsigned char *data,
    size_t size, double unit_mm);
vug_status vugi_read_3mf(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm);

/* Writes a 3MF of one object; closed: it is a solid, else a surface. */
vug_status vugi_write_3mf(vug_context *ctx, const vug_mesh *mesh, bool closed, const char *path);

#endif
