/* SPDX-License-Identifier: MIT
 * STL, the stereolithography format: 80 bytes of header, a 32-bit count and 50 bytes for each
 * facet; or text. Little-endian. */
#ifndef VUGI_STL_H
#define VUGI_STL_H

#include "mesh/mesh.h"
#include "mesh/weld.h"

enum { VUGI_STL_HEADER = 84, VUGI_STL_FACET = 50 };

/* Size of a binary STL of VUG_MAX_TRIANGLES. */
#define VUGI_STL_MAX_BYTES \
    (VUGI_STL_HEADER + (uint64_t)VUGI_STL_FACET * (uint64_t)VUG_MAX_TRIANGLES)

/* Facets of a file, gathered: corners go through the weld, triangles name vertices. */
typedef struct vugi_facets {
    vug_context *ctx;
    const char *name; /* of the file, for messages */
    vugi_weld weld;
    uint32_t *triangle; /* rows of 3 */
    size_t count, capacity;
    size_t against;  /* facets whose stated normal points the other way */
    size_t polygons; /* facets of more than three corners, split */
} vugi_facets;

/* Whether data starts like STL text; whether it starts like any text. */
bool vugi_stl_is_text(const unsigned char *data, size_t size);
bool vugi_stl_all_text(const unsigned char *data, size_t size);

vug_status vugi_stl_read_binary(vugi_facets *facets, const unsigned char *data, size_t size);
vug_status vugi_stl_read_text(vugi_facets *facets, const unsigned char *data, size_t size);

/* Whether a stated normal clearly (by more than 120 degrees) contradicts the corners' turning. */
bool vugi_stl_normal_against(const double normal[3], const double corner[9]);

/* Loads STL from memory; vug_mesh_load_stl_memory without the progress. */
vug_status vugi_stl_load(vug_context *ctx, const unsigned char *data, size_t size, const char *name,
    vug_mesh **out);

#endif
