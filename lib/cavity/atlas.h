/* SPDX-License-Identifier: MIT
 * Which chamber of a cavity a place lies in. */
#ifndef VUGI_ATLAS_H
#define VUGI_ATLAS_H

#include "cavity/cavity.h"
#include "cavity/void_types.h"

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
