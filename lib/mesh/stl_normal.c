/* SPDX-License-Identifier: MIT
 * Normals stated in a file against the corners. */
#include "mesh/stl_normal.h"

#include "base/vec.h"

#include <math.h>

bool vugi_stl_normal_against(const double normal[3], const double corner[9])
{
    double u[3], v[3];
    for (int k = 0; k < 3; k++) {
        u[k] = corner[3 + k] - corner[k];
        v[k] = corner[6 + k] - corner[k];
    }
    double c[3];
    vugi_cross(u, v, c);
    double along = vugi_dot(c, normal);
    double size2 = vugi_dot(c, c) * vugi_dot(normal, normal);
    return along < 0.0 && along * along > 0.25 * size2;
}
