/* SPDX-License-Identifier: MIT
 * Files in any format: which one it is, and the readers that other libraries lend. */
#ifndef VUGI_MESH_LOAD_H
#define VUGI_MESH_LOAD_H

#include "mesh/gather.h"
#include "mesh/mesh.h"

/* Reader: the pieces of the file into gather, scaled to mm by unit_mm (0: by the
 * unit the file or its format has, else 1). */
vug_status vugi_read_3mf(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm);

#endif
