/* SPDX-License-Identifier: MIT
 * From a part and its holes to closed cavity meshes. */
#ifndef VUGI_CAVITY_BUILD_H
#define VUGI_CAVITY_BUILD_H

#include "cavity/cavity.h"

#include "mesh/mesh.h"

/* Parts the part along the rims of its holes and gathers the closed meshes of its cavities. The
 * part must be closed and consistently turned. Cavities below min_volume are left out. A hole that leads
 * into no cavity is VUG_ERR_NOT_FOUND; a placed one only sets its place in astray, if that is given. */
vug_status vugi_cavities_build(vug_context *ctx, const vug_mesh *part, const vugi_hole *hole,
    size_t hole_count, double min_volume, bool *astray, vug_cavities **out);

#endif
