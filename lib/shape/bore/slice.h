/* SPDX-License-Identifier: MIT
 * What of a triangle lies in a tool: clipped by plane after plane, every corner known by what it lies
 * on, so that neighbours see the same. */
#ifndef VUGI_SHAPE_SLICE_H
#define VUGI_SHAPE_SLICE_H

#include "shape/bore/tool.h"

enum {
    VUGI_SLICE_PLANE = 3, /* names of edges: 0 .. 2 of the triangle, from here on planes of the tool */
    VUGI_SLICE_MOST = VUGI_TOOL_MOST_SIDES + 8
};

typedef struct vugi_slice_corner {
    double x[3];
    bool own;        /* a corner of the triangle */
    uint32_t edge[2];/* else the two edges on which it lies, lower name first */
    uint32_t out;    /* edge from here to the next corner */
} vugi_slice_corner;

typedef struct vugi_slice {
    vugi_slice_corner corner[2][VUGI_SLICE_MOST];
    int side; /* which of the two lists is valid */
    size_t count;
} vugi_slice;

/* The triangle: vertex numbers and their places in the tool's coordinates. Its slice is counter-clockwise
 * as the triangle is; count 0: they do not meet. false: rounding leaves open what it looks like. */
bool vugi_slice_triangle(const vugi_tool *tool, const uint32_t vertex[3], double x[3][3],
    vugi_slice *slice);

#endif
