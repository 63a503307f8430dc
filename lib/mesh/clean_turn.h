/* SPDX-License-Identifier: MIT
 * Repair of doubled and wrongly turned triangles. */
#ifndef VUGI_MESH_CLEAN_TURN_H
#define VUGI_MESH_CLEAN_TURN_H

#include "mesh/clean_types.h"

vug_status vugi_clean_duplicates(vugi_clean *clean);
vug_status vugi_clean_turn(vugi_clean *clean);   /* neighbours alike */
vug_status vugi_clean_shells(vugi_clean *clean); /* shells by their nesting */

#endif
