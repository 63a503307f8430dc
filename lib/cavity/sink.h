/* SPDX-License-Identifier: MIT
 * Recesses that bores begin in: countersinks, counterbores. */
#ifndef VUGI_CAVITY_SINK_H
#define VUGI_CAVITY_SINK_H

#include "cavity/wall.h"

/* If the rim of a wall lies in a recess, its neck is that, and its rim the recess's own on the skin. */
vug_status vugi_sink_find(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    vugi_wall *wall);

#endif
