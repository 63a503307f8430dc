/* SPDX-License-Identifier: MIT
 * Fewer triangles for the inner surface, where that moves it by no more than a bound. */
#ifndef VUGI_HOLLOW_SIMPLIFY_H
#define VUGI_HOLLOW_SIMPLIFY_H

#include "mesh/tree.h"

typedef struct vugi_simplifying {
    vug_context *ctx;
    const vugi_tree *outer;
    double least, step; /* mm: of the wall, and of the grid */
    double bound;       /* mm */
    double error;       /* gets how far one surface lies from the other, mm */
    double thinnest;    /* gets the bound below the wall; as it was if nothing is simplified */
} vugi_simplifying;

/* Does this build know how? */
bool vugi_simplify_known(void);

/* Takes *net in place of which there is a simpler one then: some of its vertices, as they are. What would not be sound
 * (coarse.h) stays as fine as it was. */
vug_status vugi_simplify(vugi_simplifying *s, vug_mesh **net);

#endif
