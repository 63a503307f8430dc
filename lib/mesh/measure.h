/* SPDX-License-Identifier: MIT
 * Volume, area and centroid by the divergence theorem; health of edges. */
#ifndef VUGI_MESH_MEASURE_H
#define VUGI_MESH_MEASURE_H

#include "mesh/edges.h"
#include "mesh/mesh.h"

/* vug_mesh_measure() as a part of a longer call. */
vug_status vugi_mesh_measure(vug_context *ctx, const vug_mesh *mesh, vug_mesh_measures *measures);

#endif
