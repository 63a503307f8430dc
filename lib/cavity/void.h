/* SPDX-License-Identifier: MIT
 * The void of a part on a grid: which of it is cavity, in which chamber, and where chambers and the
 * outside meet. */
#ifndef VUGI_CAVITY_VOID_H
#define VUGI_CAVITY_VOID_H

#include "cavity/void_types.h"

#include "mesh/mesh.h"

/* A branch of the merge tree of the distance to the solid is a cavity when its largest inscribed
 * ball is cavity_ratio times as wide as the neck through which it meets the outside, or when it
 * never does; inside it, chambers are told apart the same way by chamber_ratio (after Gostick 2017,
 * Physical Review E 96:023307, with persistence in place of smoothing). */
vug_status vugi_void_build(vug_context *ctx, const vug_mesh *mesh, const vugi_void_rule *rule,
    vugi_void *out);
void vugi_void_free(const vugi_allocator *mem, vugi_void *v);

#endif
