/* SPDX-License-Identifier: MIT
 * Skin with no liquid near behind it. */
#ifndef VUGI_HOLLOW_BARE_H
#define VUGI_HOLLOW_BARE_H

#include "grid/grid.h"

#include "mesh/mesh.h"

typedef struct vugi_bare {
    vug_context *ctx;
    const vug_mesh *mesh;  /* the skin */
    const vugi_grid *grid; /* holds all of it */
    double depth;          /* mm */
    uint8_t *first;        /* of each sample, as the first look found it: 1: bare */
    size_t samples;
} vugi_bare;

/* Area of the skin, in mm2, from which the nearest liquid is farther than depth. liquid: 1 for the cells it fills. work
 * has a place for each cell. mark, unless NULL, gets 1 at cells beside skin that is bare now and was not at the first
 * look. Source: exact Euclidean distance between cells, read between them, less half a step; samples of equal area in
 * each triangle, about two in a step's square. */
vug_status vugi_bare_measure(vugi_bare *b, const uint8_t *liquid, uint32_t *work, uint8_t *mark,
    double *area);
void vugi_bare_free(vugi_bare *b);

#endif
