/* SPDX-License-Identifier: MIT
 * 3MF out: the core specification of the 3MF Consortium, 1.3; in millimetres, an object for each
 * piece. */
#ifndef VUGI_MESH_THREEMF_SAVE_H
#define VUGI_MESH_THREEMF_SAVE_H

#include "mesh/mesh.h"

typedef struct vugi_3mf_piece {
    const vug_mesh *mesh;
    const char *name; /* as people read it, UTF-8; NULL: none */
    bool closed;      /* a solid; else a surface */
} vugi_3mf_piece;

/* Each piece where its mesh says. Triangles that name a vertex twice are left out, since the format
 * forbids them. */
vug_status vugi_3mf_save(vug_context *ctx, const vugi_3mf_piece *pieces, size_t count,
    const char *path);

#endif
