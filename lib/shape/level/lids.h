/* SPDX-License-Identifier: MIT
 * Flat lids over the edges that a body ends in at a height. */
#ifndef VUGI_SHAPE_LIDS_H
#define VUGI_SHAPE_LIDS_H

#include "shape/bore/patch.h"

/* An edge of a lid, run through as the lid does. below: the body is below it. */
typedef struct vugi_lid_edge {
    uint32_t from, to, height;
    bool below;
} vugi_lid_edge;

/* Adds the triangles of all lids, those that look up first; *up: how many these are. Sorts the edges. xyz: of the corners
 * that edges have, in the pose. crossing: see vugi_patch(). VUG_ERR_MESH: they don't close, or cross. Sets no message
 * then. */
vug_status vugi_lids(vug_context *ctx, const double *xyz, vugi_lid_edge *edge, size_t count,
    bool crossing, vugi_rows *rows, size_t *up);

#endif
