/* SPDX-License-Identifier: MIT
 * Openings as the mesh sees them: where the wall of a cavity ends and the outer skin begins. */
#ifndef VUGI_CAVITY_RING_H
#define VUGI_CAVITY_RING_H

#include "cavity/mouth.h"
#include "cavity/void_types.h"

#include "mesh/mesh.h"

/* Labels every triangle as wall of a cavity or outer skin by the void in front of it, lets the
 * triangles of passages too narrow for the grid follow their neighbours, and lists the closed borders
 * between the two as places to look for a hole: this finds bores that the grid is too coarse for. other:
 * neighbours of the mesh. *mouth is from ctx's allocator, the caller frees it. */
vug_status vugi_rings_find(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    const vugi_void *v, vugi_mouth **mouth, size_t *count);

#endif
