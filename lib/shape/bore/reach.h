/* SPDX-License-Identifier: MIT
 * Where a bore begins and ends: the wall at its point, and how much room is before and behind it. */
#ifndef VUGI_SHAPE_REACH_H
#define VUGI_SHAPE_REACH_H

#include "shape/bore/line.h"

typedef struct vugi_reach {
    double skin;     /* where the axis (or the line of the bore nearest to it that does) meets the solid */
    double from, to; /* the wall there, over the whole section */
    double last;     /* end of the last solid on any line of the section */
    double before;   /* room in front of from, and behind to: INFINITY if there is nothing more */
    double behind;
} vugi_reach;

/* Looks along lines over the section: its middle, rings, and vertices of the mesh in it. VUG_ERR_NOT_FOUND:
 * no solid at or behind the point; VUG_ERR_MEMORY. Sets no message. */
vug_status vugi_reach_find(const vugi_carving *carving, const vugi_tool *tool,
    const vugi_reachable *list, double radius, vugi_reach *reach);

/* Is a facet in the section flat at w, within tolerance? */
bool vugi_reach_flat(const vugi_carving *carving, const vugi_tool *tool, const vugi_reachable *list,
    double w, double tolerance);

#endif
