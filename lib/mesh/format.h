/* SPDX-License-Identifier: MIT
 * Formats of mesh files. */
#ifndef VUGI_MESH_FORMAT_H
#define VUGI_MESH_FORMAT_H

#include "base/base.h"

typedef enum vugi_format {
    VUGI_FORMAT_STL,
    VUGI_FORMAT_OBJ,
    VUGI_FORMAT_PLY,
    VUGI_FORMAT_OFF,
    VUGI_FORMAT_GLTF,
    VUGI_FORMAT_GLB,
    VUGI_FORMAT_3MF
} vugi_format;

#endif
