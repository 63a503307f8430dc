/* SPDX-License-Identifier: MIT
 * Parting a mesh along rims, and closing both sides with caps. */
#ifndef VUGI_CAVITY_SPLIT_H
#define VUGI_CAVITY_SPLIT_H

#include "cavity/wall.h"

/* A mesh whose triangles carry a tag: -1 as found, else the number of the cap they belong to. */
typedef struct vugi_tagged {
    vug_mesh *mesh;
    int32_t *tag;
} vugi_tagged;

typedef struct vugi_cap {
    const vugi_wall *wall; /* its rim is where the mesh is parted */
    double peak[3];        /* from which it spans the rim, if all of that is seen from there */
    int32_t tag;
    bool apart; /* out: the rim parts the mesh; if not, it is left alone */
} vugi_cap;

/* Parts mesh along the rims. Both sides of each get the same cap with its tag, which spans the rim as it
 * is, flat, curved or stepped: closed stays closed. other: neighbours of mesh. */
vug_status vugi_split_mesh(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    vugi_cap *cap, size_t cap_count, vugi_tagged *out);

void vugi_tagged_free(const vugi_allocator *mem, vugi_tagged *tagged);

#endif
