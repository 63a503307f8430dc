/* SPDX-License-Identifier: MIT
 * Triangles less the tool. */
#ifndef VUGI_SHAPE_PIECES_H
#define VUGI_SHAPE_PIECES_H

#include "shape/bore/cutting.h"

/* Parts the triangles that the tool meets: what is outside it goes to added, the seams are listed.
 * VUG_ERR_MESH: rounding leaves it open; VUG_ERR_MEMORY. No message, like all of a cut. */
vug_status vugi_cut_pieces(vugi_cutting *cut);

#endif
