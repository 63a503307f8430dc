/* SPDX-License-Identifier: MIT */
#include "shape/bore/line.h"

#include "base/vec.h"
#include "mesh/exact.h"

#include <math.h>

static uint8_t beyond(const double u, const double v, double r)
{
    double slant = 1.4142135623730951 * r; /* an octagon around the circle */
    return (uint8_t)((u > r) | (u < -r) << 1 | (v > r) << 2 | (v < -r) << 3 | (u + v > slant) << 4
        | (u + v < -slant) << 5 | (u - v > slant) << 6 | (u - v < -slant) << 7);
}

bool vugi_reachable_find(const vugi_carving *carving, const vugi_tool *tool, double radius,
    uint8_t *mark, vugi_reachable *list)
{
    list->count = 0;
    for (size_t v = 0; v < carving->vertex_count; v++) {
        double d[3];
        vugi_subtract(carving->xyz + 3 * v, tool->origin, d);
        mark[v] = beyond(vugi_dot(d, tool->axis[0]), vugi_dot(d, tool->axis[1]), radius);
    }
    for (size_t t = 0; t < carving->triangle_count; t++) {
        const uint32_t *row = carving->triangle + 3 * t;
        if (row[0] == VUGI_CARVED || (mark[row[0]] & mark[row[1]] & mark[row[2]]))
            continue;
        if (!vugi_reserve(&carving->mem, &list->triangle, &list->capacity, list->count + 1,
                sizeof *list->triangle))
            return false;
        list->triangle[list->count++] = (uint32_t)t;
    }
    return true;
}

void vugi_carving_corners(const vugi_carving *carving, const vugi_tool *tool, uint32_t triangle,
    double x[3][3])
{
    for (size_t k = 0; k < 3; k++)
        vugi_tool_local(tool,
            carving->xyz + 3 * (size_t)carving->triangle[3 * (size_t)triangle + k], x[k]);
}

int vugi_line_pass(const uint32_t vertex[3], double x[3][3], const double uv[2], double *w)
{
    int turns = 0;
    for (int i = 0; i < 3; i++) {
        int j = (i + 1) % 3;
        bool up = x[j][1] > uv[1];
        if ((x[i][1] > uv[1]) == up)
            continue;
        bool low_first = vertex[i] < vertex[j];
        const double *a = x[low_first ? i : j], *b = x[low_first ? j : i];
        int side = vugi_turn(a, b, uv); /* 1: the point lies left of the way from a to b */
        bool left = (side > 0) == (b[1] > a[1]) && side != 0;
        if (left)
            turns += up ? 1 : -1;
    }
    if (turns == 0)
        return 0;
    double normal[3];
    vugi_triangle_cross(x[0], x[1], x[2], normal);
    *w = x[0][2]
        + ((x[0][0] - uv[0]) * normal[0] + (x[0][1] - uv[1]) * normal[1])
            / (normal[2] != 0.0 ? normal[2] : INFINITY);
    return -turns;
}

int vugi_line_winding(const vugi_carving *carving, const vugi_tool *tool,
    const vugi_reachable *list, const double x[3])
{
    int winding = 0;
    for (size_t i = 0; i < list->count; i++) {
        uint32_t t = list->triangle[i];
        double corner[3][3], w;
        vugi_carving_corners(carving, tool, t, corner);
        int passed = vugi_line_pass(carving->triangle + 3 * (size_t)t, corner, x, &w);
        if (passed != 0 && w < x[2])
            winding += passed;
    }
    return winding;
}
