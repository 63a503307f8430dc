/* SPDX-License-Identifier: MIT
 * Repair of triangles that are there more than once. */
#ifndef VUGI_MESH_CLEAN_DOUBLE_H
#define VUGI_MESH_CLEAN_DOUBLE_H

#include "mesh/clean_types.h"

/* Takes away what is there again, but not where that would open what is closed: two bodies may
 * have a face in common. */
vug_status vugi_clean_duplicates(vugi_clean *clean);

#endif
