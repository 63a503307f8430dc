/* SPDX-License-Identifier: MIT
 * What is on the move in a closed cavity comes to rest: it falls, from the lowest piece up, each to
 * the basin below it, fills that and runs over its sill. */
#ifndef VUGI_TURN_SETTLE_H
#define VUGI_TURN_SETTLE_H

#include "turn/drops.h"

#include "gravity/scene.h"

/* Lets them fall, or rise if they are air, through a cavity that is full of the other and closed all
 * around. level: of each arc, at rest. */
vug_status vugi_drops_settle(vug_context *ctx, vugi_scene *scene, bool air, const vugi_drop *drop,
    size_t count, double *level);

#endif
