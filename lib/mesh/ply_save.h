/* SPDX-License-Identifier: MIT
 * PLY out. */
#ifndef VUGI_MESH_PLY_SAVE_H
#define VUGI_MESH_PLY_SAVE_H

#include "base/base.h"

/* rgb: a row of 3 bytes for each vertex, or NULL for no colours. */
vug_status vugi_save_ply(vug_context *ctx, const vug_mesh *mesh, const uint8_t *rgb,
    const char *path);

#endif
