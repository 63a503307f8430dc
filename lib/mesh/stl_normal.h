/* SPDX-License-Identifier: MIT
 * Normals stated in a file against the corners. */
#ifndef VUGI_MESH_STL_NORMAL_H
#define VUGI_MESH_STL_NORMAL_H

#include "base/base.h"

/* Whether a stated normal clearly (by more than 120 degrees) contradicts the corners' turning. */
bool vugi_stl_normal_against(const double normal[3], const double corner[9]);

#endif
