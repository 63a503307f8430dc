/* SPDX-License-Identifier: MIT
 * OFF, the Object File Format of Geomview, as text: a line for each vertex and for each face, with
 * normals or colours after what counts. */
#ifndef VUGI_MESH_OFF_H
#define VUGI_MESH_OFF_H

#include "mesh/gather.h"

vug_status vugi_read_off(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm);

#endif
