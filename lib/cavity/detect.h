/* SPDX-License-Identifier: MIT
 * Finding cavities and their openings in nothing but a mesh. */
#ifndef VUGI_CAVITY_DETECT_H
#define VUGI_CAVITY_DETECT_H

#include "cavity/cavity.h"

#include "mesh/mesh.h"

/* The cavities of a part with the holes that someone named (they come first in their cavity) and all
 * others that are in the mesh. closed: it may be cut; otherwise, and where cutting fails, cavities are
 * measured on the grid, with a warning. options: read and complete. */
vug_status vugi_cavities_detect(vug_context *ctx, const vug_mesh *part, bool closed,
    const vugi_hole *named, size_t named_count, const vug_cavity_options *options,
    vug_cavities **out);

#endif
