/* SPDX-License-Identifier: MIT
 * Is a coarser inner surface as good as the fine one that it stands for? */
#ifndef VUGI_HOLLOW_COARSE_H
#define VUGI_HOLLOW_COARSE_H

#include "mesh/tree.h"

typedef struct vugi_coarse {
    vug_context *ctx;
    const vug_mesh *fine;
    const vugi_tree *fine_tree, *outer;
    double least, step; /* mm: a wall's thickness, and how dense points are looked at */
    double bound;       /* mm: how far one may lie from the other */
    size_t
        fresh; /* triangles of the coarse mesh, the first ones, that are looked at; others have been before */
    uint32_t *near; /* of each vertex of fine the nearest triangle of the coarse mesh */
    double *away;   /* how far that is */
    double *far;    /* of each vertex of fine from outer */
    double *wall;   /* of each triangle of the coarse mesh: no point of it is nearer to outer */
    double *off;    /* the point of it that is farthest from fine, of those looked at */
    uint8_t *bad;   /* triangles of the coarse mesh */
    size_t faults;  /* how many are bad */
    double error, thinnest; /* mm; of the fresh triangles */
} vugi_coarse;

/* Room for meshes of as many triangles as fine. */
vug_status vugi_coarse_begin(vugi_coarse *c);
void vugi_coarse_end(vugi_coarse *c);

/* Finds the triangles of mesh, whose vertices are those of fine, that are not sound: an edge without its opposite, a crossing, a
 * wall thinner than least, farther from fine, or fine from them, than bound. Points looked at: fine's vertices, and of
 * each triangle a lattice of a step. */
vug_status vugi_coarse_look(vugi_coarse *c, const vug_mesh *mesh);

#endif
