/* SPDX-License-Identifier: MIT
 * STL as text: solid NAME, facets of `facet normal x y z outer loop vertex x y z ... endloop
 * endfacet`, endsolid NAME. */
#ifndef VUGI_MESH_STL_TEXT_H
#define VUGI_MESH_STL_TEXT_H

#include "mesh/stl_types.h"

/* Whether data starts like STL text; whether it starts like any text. */
bool vugi_stl_is_text(const unsigned char *data, size_t size);
bool vugi_stl_all_text(const unsigned char *data, size_t size);

vug_status vugi_stl_read_text(vugi_facets *facets, const unsigned char *data, size_t size);

#endif
