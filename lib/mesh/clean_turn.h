/* SPDX-License-Identifier: MIT
 * Repair of wrongly turned triangles. */
#ifndef VUGI_MESH_CLEAN_TURN_H
#define VUGI_MESH_CLEAN_TURN_H

#include "mesh/clean_types.h"

vug_status vugi_clean_turn(vugi_clean *clean);   /* neighbours alike */
vug_status vugi_clean_shells(vugi_clean *clean); /* shells by their nesting */

#endif
