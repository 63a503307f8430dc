/* SPDX-License-Identifier: MIT
 * Which shell of a cut mesh lies directly inside which. */
#ifndef VUGI_NESTING_H
#define VUGI_NESTING_H

#include "cavity/cut.h"
#include "mesh/shells.h"

/* parent[s]: the smallest shell around shell s, -1 for none. A shell is judged by a point in the
 * middle of one of its own wall triangles (not a cap: caps of two shells lie on one another). */
vug_status vugi_nesting(vug_context *ctx, const vugi_tagged *work, const vug_shells *shells,
    int32_t *parent);

#endif
