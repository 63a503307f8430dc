/* SPDX-License-Identifier: MIT
 * Does the grid bear out a cavity that was cut from the mesh? */
#ifndef VUGI_CAVITY_CONFIRM_H
#define VUGI_CAVITY_CONFIRM_H

#include "cavity/cavity.h"
#include "cavity/void_types.h"

/* Is cavity number j of c as large as what the grid counts in it? of: of each cavity of the grid, the one of c that holds it, or
 * -1. Walls that cross themselves bound something else than the void. What the grid is too coarse for it has no say in. */
bool vugi_void_confirms(const vugi_void *v, const vug_cavities *c, size_t j, const int32_t *of);

#endif
