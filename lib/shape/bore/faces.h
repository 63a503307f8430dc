/* SPDX-License-Identifier: MIT
 * The tool's planes in the solid. */
#ifndef VUGI_SHAPE_FACES_H
#define VUGI_SHAPE_FACES_H

#include "shape/bore/cutting.h"

/* Adds what of the tool's planes lies in the solid. VUG_ERR_NOT_FOUND: nothing does, and the tool holds no
 * triangle. */
vug_status vugi_cut_faces(vugi_cutting *cut);

#endif
