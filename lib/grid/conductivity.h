/* SPDX-License-Identifier: MIT
 * What a passage of any shape resists, on a grid of its cells.
 *
 * Where liquid flows slowly along a straight passage, its speed is k G / viscosity, G the fall of pressure over
 * length, and k solves Poisson's equation over the section: sum of second derivatives = -1, 0 at the wall.
 * In a round passage of half width D that is d (2D - d) / 4 at distance d from the wall, in a slot
 * d (2D - d) / 2 (Hagen and Poiseuille); between the two, and in corners, it is what the section makes it, so
 * nothing has to be judged. Solved over the cells in space it is the local conductivity of passages that turn and
 * widen too, and Laplace's equation with it gives the flow from end to end (elliptic flow equations: Chung,
 * Wang, Armstrong, Mostaghimi 2019, SPE Journal 24, who take the form of the round passage everywhere). */
#ifndef VUGI_CONDUCTIVITY_H
#define VUGI_CONDUCTIVITY_H

#include "grid/walls.h"

/* What a cell of a passage is. AWAY: liquid, but no part of the passage; the flow stops at it without a wall. */
enum { VUGI_CELL_WALL, VUGI_CELL_AWAY, VUGI_CELL_IN, VUGI_CELL_FROM, VUGI_CELL_TO };

/* k in mm2 of each cell that is no wall and not away, else 0. wide (may be NULL): not 0 for the cells of the chambers
 * at its ends: what they conduct must not reach into the passage, nor the other way. */
vug_status vugi_conductivity(vug_context *ctx, const vugi_grid *grid, const uint8_t *state,
    const uint8_t *gap, const uint8_t *wide, double *k);

/* A passage as a bundle of equal tubes that resists as it does: length in mm, thin the sum of 8 length / (area
 * radius^2) in 1/mm3, which is pressure over viscosity and flow, and edge the sum of 2 length / radius, which is
 * pressure over the stress at the wall. */
typedef struct vugi_passage {
    double length, thin, edge;
} vugi_passage;

/* Where a ball of so many radii of the passage has room the chamber begins. */
#define VUGI_CHAMBER_RADII 1.5

/* A passage by its walls: mm that it is as wide on, its section there, mm2, and half its least width; area 0: not known. */
typedef struct vugi_straight {
    double length, area, half;
} vugi_straight;

/* Where a passage is narrowest, and how it ends in the chambers. */
typedef struct vugi_ends {
    const uint8_t *wide; /* as for vugi_conductivity() */
    double center[3],
        radius;       /* of the ball where it is narrowest; radius 0: its ends lose nothing */
    double abrupt[2]; /* of each end: 1: it is as wide up to there; 0: it widens step by step */
    vugi_straight straight;
} vugi_ends;

/* From the cells FROM to the cells TO. VUG_ERR_NOT_FOUND: the ends don't hang together. */
vug_status vugi_passage_measure(vug_context *ctx, const vugi_grid *grid, const uint8_t *state,
    const double *k, const vugi_ends *ends, vugi_passage *out);

#endif
