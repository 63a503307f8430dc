/* SPDX-License-Identifier: MIT
 * A set of cavities: how large it may be, made empty, and freed. */
#ifndef VUGI_CAVITY_SET_H
#define VUGI_CAVITY_SET_H

#include "cavity/cavity.h"

#include "column/column.h"
#include "mesh/mesh.h"

vugi_bodies vugi_cavities_bodies(const vug_cavities *cavities);

/* Of all cavities together, planned bores included. */
double vugi_cavities_volume(const vug_cavities *cavities);

/* An empty set that shares the part, for code that fills it otherwise. NULL: no memory. */
vug_cavities *vugi_cavities_new(const vugi_allocator *mem, const vug_mesh *part);

/* VUG_ERR_LIMIT if a set of cavities may not have so many openings. */
vug_status vugi_openings_allowed(vug_context *ctx, size_t count);

void vugi_cavity_free(const vugi_allocator *mem, vugi_cavity *cavity);

#endif
