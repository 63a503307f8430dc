/* SPDX-License-Identifier: MIT
 * Cups on the outside of a part: what its own shape shuts against the film while it grows. */
#ifndef TOOLS_DRAIN_OUTSIDE_H
#define TOOLS_DRAIN_OUTSIDE_H

#include "printing.h"

/* Lowest level of the part along up. */
double outside_lowest(const vug_mesh *mesh, const double *up);

/* Does the point lie in a closed mesh? */
bool outside_is_in(const vug_mesh *mesh, const double point[3]);

vug_status outside_cups(vug_context *ctx, const vug_mesh *mesh, const double *up, int64_t columns,
    const printing_settings *settings, vug_cups **out);

#endif
