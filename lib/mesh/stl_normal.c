/* SPDX-License-Identifier: MIT
 * Normals stated in a file against the corners. */
#include "mesh/stl_normal.h"

#include <math.h>

bool vugi_stl_normal_against(const double normal[3], const double corner[9])
{
    double u[3], v[3];
    for (int k = 0; k < 3; k++) {
        u[k] = corner[3 + k] - corner[k];
        v[k] = corner[6 + k] - corner[k];
    }
    double c[3] = {u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]};
    double along = c[0] * normal[0] + c[1] * normal[1] + c[2] * normal[2];
    double size2 = (c[0] * c[0] + c[1] * c[1] + c[2] * c[2])
        * (normal[0] * normal[0] + normal[1] * normal[1] + normal[2] * normal[2]);
    return along < 0.0 && along * along > 0.25 * size2;
}
