/* SPDX-License-Identifier: MIT
 * A cut on its way. Vertices below base are the carving's, others base + number of a point. */
#ifndef VUGI_SHAPE_CUTTING_H
#define VUGI_SHAPE_CUTTING_H

#include "shape/bore/line.h"
#include "shape/bore/patch.h"
#include "shape/bore/points.h"
#include "shape/bore/slice.h"

/* Where the surface crosses a plane of the tool, from point to point; as seen from within the tool the
 * solid is on the left. */
typedef struct vugi_seam {
    uint32_t plane, from, to;
} vugi_seam;

typedef struct vugi_cutting {
    const vugi_carving *carving;
    const vugi_tool *tool;
    const vugi_reachable *list;
    uint32_t base;
    vugi_points points;
    vugi_seam *seam;
    size_t seam_count, seam_capacity;
    vugi_rows added;
    uint32_t *removed; /* triangles of the carving */
    size_t removed_count, removed_capacity;
    vugi_outline outline; /* scratch */
    vugi_slice *slice;    /* scratch */
} vugi_cutting;

/* Parts the triangles that the tool meets: what is outside it goes to added, the seams are listed.
 * VUG_ERR_MESH: rounding leaves it open; VUG_ERR_MEMORY. No message, like all of a cut. */
vug_status vugi_cut_pieces(vugi_cutting *cut);

/* Adds what of the tool's planes lies in the solid. VUG_ERR_NOT_FOUND: nothing does, and the tool holds no
 * triangle. */
vug_status vugi_cut_faces(vugi_cutting *cut);

#endif
