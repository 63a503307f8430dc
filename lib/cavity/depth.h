/* SPDX-License-Identifier: MIT
 * The ends of a bore: planes through them, and how deep it is from the skin to the cavity. */
#ifndef VUGI_CAVITY_DEPTH_H
#define VUGI_CAVITY_DEPTH_H

#include "cavity/cavity.h"
#include "cavity/wall.h"

/* Sum of p x q / 2 around the points (3 each): the area they span, with its direction. */
void vugi_area_vector(const double *point, size_t count, double area[3]);

/* Area and perimeter of an opening's rim, and its normal; along: where it has no area. */
void vugi_opening_rim_size(vugi_opening *opening, const double along[3]);

/* The plane through the mouth of an opening whose rim is measured: level, slope, rise, and its middle. */
void vugi_opening_mouth(const vugi_wall *wall, vugi_opening *opening);

/* Length of a straight bore along its axis: what skin and cavity beside it, carried on to the axis, lie
 * apart. The rim of a bore in a ball lies deeper than the ball's skin would on the axis, and that
 * of one with a broken edge lies within the edge. Where what lies beside the bore does not tell, from rim to
 * mouth. */
vug_status vugi_bore_depth(vug_context *ctx, const vug_mesh *part, const vugi_wall *wall,
    vugi_opening *opening);

#endif
