/* SPDX-License-Identifier: MIT */
#ifndef VUGI_POSE_STABILITY_H
#define VUGI_POSE_STABILITY_H

#include "mesh/mesh.h"

/* How the part stands on a table in a pose: distance, in mm, of its centre of mass from the edge of
 * the convex hull of what touches the table (within give mm of the lowest point); negative outside:
 * it falls over. VUG_ERR_MEMORY, without a message. */
vug_status vugi_static_margin(const vugi_allocator *mem, const vug_mesh *part,
    const double center[3], const double up[3], double tolerance, double *margin);

#endif
