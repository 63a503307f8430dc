/* SPDX-License-Identifier: MIT
 * One convex tool taken away from a mesh. */
#ifndef VUGI_SHAPE_CUT_H
#define VUGI_SHAPE_CUT_H

#include "shape/bore/line.h"

typedef struct vugi_cut_result {
    double volume_mm3; /* of solid taken away */
    size_t removed, added;
} vugi_cut_result;

/* Takes the tool away, or leaves the carving as it was: VUG_ERR_NOT_FOUND (the tool is nowhere in the
 * solid), VUG_ERR_MESH (rounding, or faults of the mesh, leave no sound result: turn the tool a little
 * and try again), VUG_ERR_MEMORY. shortest: no new edge may be shorter; flattest: no new triangle lower.
 * Sets no message. */
vug_status vugi_cut(vugi_carving *carving, const vugi_tool *tool, const vugi_reachable *list,
    double shortest, double flattest, vugi_cut_result *result);

#endif
