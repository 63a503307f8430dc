/* SPDX-License-Identifier: MIT */
#include "shape/bore/tool.h"

#include "base/angle.h"
#include "base/vec.h"

#include <math.h>

void vugi_tool_frame(vugi_tool *tool, const double origin[3], const double direction[3])
{
    int least = 0;
    for (int k = 1; k < 3; k++)
        if (fabs(direction[k]) < fabs(direction[least]))
            least = k;
    double helper[3] = {0.0, 0.0, 0.0};
    helper[least] = 1.0;
    for (int k = 0; k < 3; k++) {
        tool->origin[k] = origin[k];
        tool->axis[2][k] = direction[k];
    }
    vugi_cross(helper, direction, tool->axis[0]);
    vugi_normalise(tool->axis[0]);
    vugi_cross(direction, tool->axis[0], tool->axis[1]);
}

void vugi_tool_turn(vugi_tool *tool, uint32_t sides, double turn)
{
    tool->sides = sides;
    tool->turn = turn;
    tool->flat = cos(VUGI_PI / sides);
    for (uint32_t k = 0; k < sides; k++) {
        double angle = turn + VUGI_PI * (2.0 * k + 1.0) / sides;
        tool->normal[k][0] = cos(angle);
        tool->normal[k][1] = sin(angle);
    }
}

void vugi_tool_local(const vugi_tool *tool, const double p[3], double x[3])
{
    double d[3];
    vugi_subtract(p, tool->origin, d);
    for (int k = 0; k < 3; k++)
        x[k] = vugi_dot(d, tool->axis[k]);
}

void vugi_tool_part(const vugi_tool *tool, const double x[3], double p[3])
{
    for (int k = 0; k < 3; k++)
        p[k] = tool->origin[k] + x[0] * tool->axis[0][k] + x[1] * tool->axis[1][k]
            + x[2] * tool->axis[2][k];
}

double vugi_tool_corner_radius(double diameter, uint32_t sides)
{
    double step = 2.0 * VUGI_PI / sides; /* area n/2 r^2 sin(step) = pi/4 diameter^2 */
    return 0.5 * diameter * sqrt(step / sin(step));
}

uint32_t vugi_tool_sides(double diameter, double error)
{
    uint32_t sides = 8;
    for (; sides < VUGI_TOOL_MOST_SIDES; sides += sides / 8) {
        double r = vugi_tool_corner_radius(diameter, sides);
        if (r - 0.5 * diameter <= error && 0.5 * diameter - r * cos(VUGI_PI / sides) <= error)
            break;
    }
    return sides < VUGI_TOOL_MOST_SIDES ? sides : VUGI_TOOL_MOST_SIDES;
}

double vugi_tool_radius_at(const vugi_tool *tool, double w)
{
    return tool->radius + tool->growth * w;
}

double vugi_tool_height(const vugi_tool *tool, uint32_t plane, const double x[3])
{
    if (plane == tool->sides)
        return tool->lo - x[2];
    if (plane > tool->sides)
        return x[2] - tool->hi;
    const double *normal = tool->normal[plane];
    return x[0] * normal[0] + x[1] * normal[1] - tool->flat * vugi_tool_radius_at(tool, x[2]);
}

void vugi_tool_corner(const vugi_tool *tool, uint32_t corner, double x[3])
{
    x[2] = corner < tool->sides ? tool->lo : tool->hi;
    double angle = tool->turn + 2.0 * VUGI_PI * (corner % tool->sides) / tool->sides;
    double r = vugi_tool_radius_at(tool, x[2]);
    x[0] = r * cos(angle);
    x[1] = r * sin(angle);
}

int32_t vugi_tool_edge(const vugi_tool *tool, uint32_t p, uint32_t q)
{
    uint32_t n = tool->sides, side = p < q ? p : q, end = p < q ? q : p;
    if (side >= n)
        return VUGI_TOOL_NO_EDGE;
    if (end == n)
        return (int32_t)(n + side);
    if (end == n + 1)
        return (int32_t)(2 * n + side);
    if (side + 1 == end)
        return (int32_t)end;
    return side == 0 && end == n - 1 ? 0 : VUGI_TOOL_NO_EDGE;
}

double vugi_tool_along(const vugi_tool *tool, uint32_t edge, const double x[3])
{
    if (edge < tool->sides)
        return x[2];
    const double *normal = tool->normal[edge % tool->sides];
    return x[1] * normal[0] - x[0] * normal[1];
}

uint32_t vugi_tool_edge_corner(const vugi_tool *tool, uint32_t edge, bool last)
{
    uint32_t n = tool->sides, k = edge % n, next = (k + 1) % n;
    if (edge < n)
        return last ? n + k : k;
    return (edge < 2 * n ? 0 : n) + (last ? next : k);
}

uint32_t vugi_tool_rim_count(const vugi_tool *tool, uint32_t plane)
{
    return plane < tool->sides ? 4 : tool->sides;
}

uint32_t vugi_tool_rim(const vugi_tool *tool, uint32_t plane, uint32_t i, bool *forward)
{
    uint32_t n = tool->sides;
    *forward = plane < n ? i < 2 : plane == n;
    if (plane == n)
        return n + i;
    if (plane > n)
        return 3 * n - 1 - i;
    const uint32_t around[4] = {plane, 2 * n + plane, (plane + 1) % n, n + plane};
    return around[i];
}

void vugi_tool_flat(const vugi_tool *tool, uint32_t plane, const double x[3], double uv[2])
{
    if (plane < tool->sides) {
        uv[0] = x[2];
        uv[1] = vugi_tool_along(tool, tool->sides + plane, x);
    } else {
        uv[0] = plane == tool->sides ? x[0] : x[1];
        uv[1] = plane == tool->sides ? x[1] : x[0];
    }
}
