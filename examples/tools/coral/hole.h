/* SPDX-License-Identifier: MIT
 * Round holes in the flat face of a surface net. */
#ifndef TOOLS_CORAL_HOLE_H
#define TOOLS_CORAL_HOLE_H

#include "net.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Cuts a round hole into the flat face z = plane and gives its edge points: count vertices of the
 * net, numbered from *first on, in the order in which the hole's edge runs round. false: the hole
 * does not lie in the flat face with room around it, or no memory. */
bool net_cut_hole(surface_net *net, double plane, const double center[2], double radius,
    size_t count, double spacing, uint32_t *first);

#endif
