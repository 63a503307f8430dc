/* SPDX-License-Identifier: MIT
 * STL, the stereolithography format: 80 bytes of header, a 32-bit count and 50 bytes for each
 * facet; or text. Little-endian. */
#ifndef VUGI_MESH_STL_H
#define VUGI_MESH_STL_H

#include "mesh/mesh.h"
#include "mesh/stl_types.h"

vug_status vugi_stl_read_binary(vugi_facets *facets, const unsigned char *data, size_t size);

/* Loads STL from memory. */
vug_status vugi_stl_load(vug_context *ctx, const unsigned char *data, size_t size, const char *name,
    vug_mesh **out);

#endif
