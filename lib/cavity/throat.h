/* SPDX-License-Identifier: MIT
 * What the throats of a cavity resist, and which chamber a place lies in: once for a cavity, for every pose. */
#ifndef VUGI_THROAT_H
#define VUGI_THROAT_H

#include "cavity/cavity.h"
#include "cavity/void.h"

/* The passage through a border between two chambers, from where one is wide to where the other is: the pressure in
 * between solves Laplace's equation with the conductivities of grid/conductivity.h, on cells as fine as the throat
 * (its center and radius are set). mark: a byte for each cell of v, zeros, and so again afterwards. */
vug_status vugi_throat_measure(vug_context *ctx, const vug_mesh *part, const vugi_void *v,
    const vugi_border *border, uint8_t *mark, vugi_place *throat);

/* Chambers by place. */
struct vugi_atlas {
    atomic_size_t owners;
    vugi_allocator mem;
    vugi_grid grid;
    uint8_t *chamber; /* of each cell 1 + its number, 0: none */
};

/* Enters the chambers of cavity number `number` of v, the first of which is number offset of the cavity. */
vug_status vugi_atlas_add(vug_context *ctx, const vugi_void *v, int32_t number, int32_t offset,
    vugi_cavity *cavity);

/* The chamber at a point or beside it, -1: none. */
int32_t vugi_atlas_chamber(const vugi_atlas *atlas, const double point[3]);

vugi_atlas *vugi_atlas_share(vugi_atlas *atlas);
void vugi_atlas_free(vugi_atlas *atlas);

#endif
