/* SPDX-License-Identifier: MIT
 * What the readers of STL share. */
#ifndef VUGI_MESH_STL_TYPES_H
#define VUGI_MESH_STL_TYPES_H

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

#endif
