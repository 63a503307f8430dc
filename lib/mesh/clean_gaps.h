/* SPDX-License-Identifier: MIT
 * Repair of gaps: only the vertices of open edges move or are put into edges, so that fine detail
 * of a sound surface stays as it is. */
#ifndef VUGI_MESH_CLEAN_GAPS_H
#define VUGI_MESH_CLEAN_GAPS_H

#include "mesh/clean_types.h"

/* Each takes away, moves or turns triangles of clean->mesh and counts so in the report. */
vug_status vugi_clean_weld(vugi_clean *clean);         /* vertices of open edges that lie close */
vug_status vugi_clean_split_joints(vugi_clean *clean); /* open edges at vertices that lie on them */

#endif
