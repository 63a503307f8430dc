/* SPDX-License-Identifier: MIT
 * Taking triangles away. */
#ifndef VUGI_MESH_CLEAN_DROP_H
#define VUGI_MESH_CLEAN_DROP_H

#include "mesh/clean_types.h"

/* Takes away the triangles that are marked; how many. */
size_t vugi_clean_drop(vugi_clean *clean, const unsigned char *gone);

#endif
