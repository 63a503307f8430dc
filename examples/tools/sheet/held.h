/* SPDX-License-Identifier: MIT
 * The part from outside, as it is held. */
#ifndef TOOLS_SHEET_HELD_H
#define TOOLS_SHEET_HELD_H

#include "paper.h"

#include "../plan/fill_plan.h"

/* A view: where its millimetres are on the paper. */
typedef struct held_view {
    double up[3], toward[3], right[3]; /* unit */
    double left, top, scale;           /* of the part, and mm on paper for a mm of it */
    double wide, tall;                 /* of the part as seen */
} held_view;

/* Toward the viewer as near to `front` as up lets it be. */
held_view held_look(const fill_plan *plan, const double up[3], const double front[3]);

/* The side that faces the maker in the pose: the front, or what comes there when the part is tipped. */
void held_front(const double up[3], double front[3]);

/* Draws it with its upper left corner at x, y. false without memory. */
bool held_draw(pages *p, const fill_plan *plan, const held_view *view, double x, double y);

/* Where a point of the part is, from that corner. */
void held_place(const held_view *view, const double point[3], double *x, double *y);

/* An opening's letter in a ring: black where something is done, dashed where it is on the far side. */
void held_letter(pages *p, const held_view *view, const plan_opening *opening, double x, double y,
    bool busy);

#endif
