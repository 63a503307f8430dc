/* SPDX-License-Identifier: MIT
 * Flat lids over the edges that a body ends in at a height. */
#ifndef VUGI_SHAPE_LIDS_H
#define VUGI_SHAPE_LIDS_H

#include "shape/bore/patch.h"
#include "shape/level/slabs.h"

/* An edge of a lid, run through as the lid does. below: the body is below it. */
typedef struct vugi_lid_edge {
    uint32_t from, to, height;
    bool below;
} vugi_lid_edge;

/* Adds the triangles of all lids, those that look up first; *up: how many these are. Sorts the edges.
 * VUG_ERR_MESH: they don't close, or cross. Sets no message then. */
vug_status vugi_lids(vug_context *ctx, const vugi_slabs *slabs, vugi_lid_edge *edge, size_t count,
    vugi_rows *rows, size_t *up);

#endif
