/* SPDX-License-Identifier: MIT
 * What the throats of a cavity resist: once for a cavity, for every pose. */
#ifndef VUGI_THROAT_H
#define VUGI_THROAT_H

#include "cavity/cavity.h"
#include "cavity/void_types.h"
#include "grid/conductivity.h"

/* The passage through a border between two chambers, from where one is wide to where the other is: the pressure in
 * between solves Laplace's equation with the conductivities of grid/conductivity.h, on cells as fine as the throat
 * (its center and radius are set); straight: it, by its walls. mark: a byte for each cell of v, zeros, and so again afterwards. */
vug_status vugi_throat_measure(vug_context *ctx, const vug_mesh *part, const vugi_void *v,
    const vugi_border *border, vugi_straight straight, uint8_t *mark, vugi_place *throat);

#endif
