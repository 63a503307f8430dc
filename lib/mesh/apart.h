/* SPDX-License-Identifier: MIT
 * Solids of one mesh that nothing joins. */
#ifndef VUGI_MESH_APART_H
#define VUGI_MESH_APART_H

#include "mesh/mesh.h"

/* How many groups of solids there are that lie beside each other: boxes round them don't touch. 1 at least; a solid of less than
 * a thousandth of the largest is a crumb and does not count. 0: no memory. */
size_t vugi_solids_apart(const vug_mesh *mesh);

#endif
