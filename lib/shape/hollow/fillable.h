/* SPDX-License-Identifier: MIT
 * A cavity made to be filled: less air stays in a pose, and behind no skin that had liquid near there is none. */
#ifndef VUGI_HOLLOW_FILLABLE_H
#define VUGI_HOLLOW_FILLABLE_H

#include "shape/hollow/uprights.h"

#include "mesh/mesh.h"

typedef struct vugi_fillable {
    vug_context *ctx;
    const vug_mesh *skin;
    const vugi_grid *grid;             /* z points up in the pose */
    float *value;                      /* of the region; it gets smaller: values rise */
    const float *depth;                /* of each cell, from the skin */
    uint8_t *lowered;                  /* gets 1 for the cells whose value rose, 0 for others */
    uint32_t *work;                    /* a place for each cell */
    double most;                       /* the greatest wall, mm: what lies deeper stays */
    double slope_deg;                  /* asked for; then: given */
    double clear;                      /* no way is made lower, mm */
    double outlet[3];                  /* NAN: the highest point */
    double trapped[2], bare[2], added; /* mm3, mm2: before and after; of resin, mm3 */
} vugi_fillable;

/* Slopes are made gentler, in the end none, until no more skin is bare than before. */
vug_status vugi_fillable_shape(vugi_fillable *f);

#endif
