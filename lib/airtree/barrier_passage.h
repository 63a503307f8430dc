/* SPDX-License-Identifier: MIT
 * Barriers in a first fill: where liquid comes in on one side and air goes out on the other,
 * nothing has to pass anything. */
#ifndef VUGI_AIRTREE_BARRIER_PASSAGE_H
#define VUGI_AIRTREE_BARRIER_PASSAGE_H

#include "airtree/air.h"
#include "airtree/barrier.h"
#include "airtree/tree.h"

/* The same for a first fill of nodes with barriers, from the vents of the same openings: while it fills,
 * liquid comes in on one side of a barrier and pushes the air out on the other, if there is an opening on
 * both sides or another way around. Not for settling. */
vug_status vugi_vents_filling(vug_context *ctx, const vugi_allocator *mem, const vugi_airtree *tree,
    const vugi_vents *vents, const vugi_barriers *barriers, vugi_vents *filling);

#endif
