/* SPDX-License-Identifier: MIT
 * Does the grid bear out a cavity that was cut from the mesh? */
#ifndef VUGI_CAVITY_CONFIRM_H
#define VUGI_CAVITY_CONFIRM_H

#include "cavity/cavity.h"
#include "cavity/void_types.h"

/* Is cavity number j of c what the grid says it is? of: of each cavity of the grid, the one of c that holds it, or -1. Walls that
 * cross themselves bound something else than the void: what the mesh bounds must be void, and hold the grid's cavities. Where
 * a cavity ends in an opening is for the mesh to say: the grid's border with the outside may lie anywhere in a bore. */
vug_status vugi_void_confirms(vug_context *ctx, const vugi_void *v, const vug_cavities *c, size_t j,
    const int32_t *of, bool *confirmed);

#endif
