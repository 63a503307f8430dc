/* SPDX-License-Identifier: MIT
 * Cutting a mesh along closed curves, and closing both sides with flat caps. */
#ifndef VUGI_CAVITY_CUT_H
#define VUGI_CAVITY_CUT_H

#include "cavity/section.h"

#include "mesh/mesh.h"

/* A mesh whose triangles carry a tag: -1 as found, else the number of the cap they belong to. */
typedef struct vugi_tagged {
    vug_mesh *mesh;
    int32_t *tag;
} vugi_tagged;

typedef struct vugi_cut {
    vugi_plane plane;
    vugi_loop loop; /* on the mesh that is cut */
    int32_t tag;
} vugi_cut;

/* Cuts in along all cuts (no triangle may lie on two loops). Both sides of each cut end in a flat
 * cap with the cut's tag, so closed stays closed. */
vug_status vugi_cut_mesh(vug_context *ctx, const vugi_tagged *in, const vugi_cut *cut,
    size_t cut_count, vugi_tagged *out);

void vugi_tagged_free(const vugi_allocator *mem, vugi_tagged *tagged);

#endif
