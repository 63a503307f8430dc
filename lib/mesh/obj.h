/* SPDX-License-Identifier: MIT
 * OBJ as text: v lines are vertices, f lines are faces whose corners are VERTEX[/TEXTURE[/NORMAL]],
 * numbered from 1, or from the last one back when negative. */
#ifndef VUGI_MESH_OBJ_H
#define VUGI_MESH_OBJ_H

#include "mesh/gather.h"

vug_status vugi_read_obj(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm);

#endif
