/* SPDX-License-Identifier: MIT
 * PLY, the polygon file format (G. */
#ifndef VUGI_MESH_PLY_H
#define VUGI_MESH_PLY_H

#include "mesh/gather.h"

vug_status vugi_read_ply(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm);

#endif
