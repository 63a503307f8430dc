/* SPDX-License-Identifier: MIT
 * Repair of dirty meshes, step by step on a copy. */
#ifndef VUGI_MESH_CLEAN_H
#define VUGI_MESH_CLEAN_H

#include "mesh/clean_types.h"

vug_status vugi_clean_degenerate(vugi_clean *clean);

#endif
