/* SPDX-License-Identifier: MIT
 * What is taken away: a convex prism or cone's frustum about an axis, in coordinates of its own: u, v
 * across, w along the axis. Its planes are sides 0 .. n-1, then the flat end at lo, then that at hi. */
#ifndef VUGI_SHAPE_TOOL_H
#define VUGI_SHAPE_TOOL_H

#include "base/base.h"

enum { VUGI_TOOL_MOST_SIDES = 720 };

typedef struct vugi_tool {
    double origin[3];
    double axis[3][3];     /* u, v, w in part coordinates, right-handed */
    uint32_t sides;
    double turn;           /* angle of corner 0, radians */
    double lo, hi;         /* flat ends, along w */
    double radius, growth; /* of the corners at w = 0, and by each mm of w */
    double flat;           /* share of the corners' radius at which the sides' middles lie */
    double normal[VUGI_TOOL_MOST_SIDES][2]; /* of the sides, across the axis */
} vugi_tool;

/* Corners: 0 .. n-1 at lo, n .. 2n-1 at hi, above each other. Edges: 0 .. n-1 up from corner k,
 * n .. 2n-1 at lo and 2n .. 3n-1 at hi from corner k to the next. */
enum { VUGI_TOOL_NO_EDGE = -1 };

/* Frame with w along direction (unit). */
void vugi_tool_frame(vugi_tool *tool, const double origin[3], const double direction[3]);

/* The sides, once their number and the angle of corner 0 are set. */
void vugi_tool_turn(vugi_tool *tool, uint32_t sides, double turn);

void vugi_tool_local(const vugi_tool *tool, const double p[3], double x[3]);
void vugi_tool_part(const vugi_tool *tool, const double x[3], double p[3]);

/* Radius of the polygon whose area is that of a round section of this diameter. */
double vugi_tool_corner_radius(double diameter, uint32_t sides);

/* Sides for which a side's middle and its corners lie within error of the circle. */
uint32_t vugi_tool_sides(double diameter, double error);

double vugi_tool_radius_at(const vugi_tool *tool, double w);

/* Signed height of x over a plane: below 0 inside. */
double vugi_tool_height(const vugi_tool *tool, uint32_t plane, const double x[3]);

void vugi_tool_corner(const vugi_tool *tool, uint32_t corner, double x[3]);

/* The edge in which two planes meet, or VUGI_TOOL_NO_EDGE. */
int32_t vugi_tool_edge(const vugi_tool *tool, uint32_t p, uint32_t q);

/* Place of x along an edge. */
double vugi_tool_along(const vugi_tool *tool, uint32_t edge, const double x[3]);

uint32_t vugi_tool_edge_corner(const vugi_tool *tool, uint32_t edge, bool last);

/* The edges around a plane, counter-clockwise as seen from within the tool: number i of
 * vugi_tool_rim_count(), and whether it is walked forward. */
uint32_t vugi_tool_rim_count(const vugi_tool *tool, uint32_t plane);
uint32_t vugi_tool_rim(const vugi_tool *tool, uint32_t plane, uint32_t i, bool *forward);

/* Coordinates in a plane, counter-clockwise as seen from within the tool. */
void vugi_tool_flat(const vugi_tool *tool, uint32_t plane, const double x[3], double uv[2]);

#endif
