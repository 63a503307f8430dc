/* SPDX-License-Identifier: MIT
 * Where a line along a tool's axis passes the surface. */
#ifndef VUGI_SHAPE_LINE_H
#define VUGI_SHAPE_LINE_H

#include "shape/bore/carving.h"
#include "shape/bore/tool.h"

/* Triangles that a cut may touch: rows of carving->triangle. */
typedef struct vugi_reachable {
    uint32_t *triangle;
    size_t count, capacity;
} vugi_reachable;

/* Those within radius of the tool's axis, in order. mark: a byte for each vertex, scratch.
 * false: no memory. */
bool vugi_reachable_find(const vugi_carving *carving, const vugi_tool *tool, double radius,
    uint8_t *mark, vugi_reachable *list);

/* Places of the corners of a triangle in the tool's coordinates. */
void vugi_carving_corners(const vugi_carving *carving, const vugi_tool *tool, uint32_t triangle,
    double x[3][3]);

/* 1: at uv, going up, the triangle is passed into the solid, and *w gets where; -1: out of it; 0: it is
 * not passed. Triangles that share an edge never count both or neither. */
int vugi_line_pass(const uint32_t vertex[3], double x[3][3], const double uv[2], double *w);

/* Times x lies in the solid: 0 outside. */
int vugi_line_winding(const vugi_carving *carving, const vugi_tool *tool,
    const vugi_reachable *list, const double x[3]);

#endif
