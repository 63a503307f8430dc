/* SPDX-License-Identifier: MIT
 * A line against a triangle. */
#ifndef VUGI_MESH_HIT_H
#define VUGI_MESH_HIT_H

#include "mesh/mesh.h"

#include "base/vec.h"

#include <math.h>

/* Distance along the line from o in direction d (in lengths of d) to triangle t, below 0 behind o, or INFINITY if it
 * misses. *out (may be NULL) on a hit: the line leaves the solid there. Moeller and Trumbore, J. Graphics Tools 2(1),
 * 1997. */
static inline double vugi_mesh_hit(const vug_mesh *mesh, uint32_t t, const double o[3],
    const double d[3], bool *out)
{
    const uint32_t *corner = mesh->triangles + 3 * (size_t)t;
    const double *a = mesh->xyz + 3 * (size_t)corner[0], *b = mesh->xyz + 3 * (size_t)corner[1];
    const double *c = mesh->xyz + 3 * (size_t)corner[2];
    double e1[3], e2[3], s[3], p[3], q[3];
    vugi_subtract(b, a, e1);
    vugi_subtract(c, a, e2);
    vugi_subtract(o, a, s);
    vugi_cross(d, e2, p);
    double det = vugi_dot(e1, p);
    if (det == 0.0)
        return INFINITY;
    double u = vugi_dot(s, p) / det;
    if (!(u >= 0.0 && u <= 1.0))
        return INFINITY;
    vugi_cross(s, e1, q);
    double v = vugi_dot(d, q) / det;
    if (!(v >= 0.0 && u + v <= 1.0))
        return INFINITY;
    if (out)
        *out = det < 0.0;
    return vugi_dot(e2, q) / det;
}

#endif
