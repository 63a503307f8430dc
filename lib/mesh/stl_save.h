/* SPDX-License-Identifier: MIT
 * STL out. */
#ifndef VUGI_MESH_STL_SAVE_H
#define VUGI_MESH_STL_SAVE_H

#include "base/base.h"

vug_status vugi_save_stl(vug_context *ctx, const vug_mesh *mesh, const char *path);

#endif
