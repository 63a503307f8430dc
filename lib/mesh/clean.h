/* SPDX-License-Identifier: MIT
 * Repair of dirty meshes, step by step on a copy. */
#ifndef VUGI_CLEAN_H
#define VUGI_CLEAN_H

#include "mesh/shells.h"

typedef struct vugi_clean {
    vug_context *ctx;
    vug_mesh mesh;    /* a copy that the steps change; arrays from ctx */
    size_t capacity;  /* triangles there is room for */
    double tolerance; /* mm */
    bool gaps;        /* gaps are closed, also those that taking away leaves */
    vug_mesh_clean_report report;
} vugi_clean;

/* Each takes away, moves or turns triangles of clean->mesh and counts so in the report. */
vug_status vugi_clean_weld(vugi_clean *clean);         /* vertices of open edges that lie close */
vug_status vugi_clean_split_joints(vugi_clean *clean); /* open edges at vertices that lie on them */
vug_status vugi_clean_degenerate(vugi_clean *clean);
vug_status vugi_clean_duplicates(vugi_clean *clean);
vug_status vugi_clean_turn(vugi_clean *clean);   /* neighbours alike */
vug_status vugi_clean_shells(vugi_clean *clean); /* shells by their nesting */

/* Takes away the triangles that are marked; how many. */
size_t vugi_clean_drop(vugi_clean *clean, const unsigned char *gone);

#endif
