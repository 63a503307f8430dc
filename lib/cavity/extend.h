/* SPDX-License-Identifier: MIT
 * The same cavities with more bores planned. */
#ifndef VUGI_CAVITY_EXTEND_H
#define VUGI_CAVITY_EXTEND_H

#include "cavity/cavity.h"

/* The same cavities once more, with room for more bores; meshes are shared. NULL: no memory. */
vug_cavities *vugi_cavities_copy(const vugi_allocator *mem, const vug_cavities *from, size_t more);

/* The same cavities with more bores, as the last openings of their cavities. VUG_ERR_NOT_FOUND: one
 * leads into no cavity, or, if they are to stand apart, runs into the bore of another opening. */
vug_status vugi_cavities_extend(vug_context *ctx, const vug_cavities *from, const vugi_hole *hole,
    size_t hole_count, bool apart, vug_cavities **out);

/* All openings come out so many times as wide, as a printer or a drill makes them: their rims, and all that is measured by
 * them. The mesh, and what is cut out for planned bores, stay as they are. For a set that nobody else has yet. */
void vugi_cavities_widen(vug_cavities *cavities, double factor);

#endif
