/* SPDX-License-Identifier: MIT
 * Ray against mesh, brute force: asked a few dozen times for a part. */
#include "cavity/ray.h"

#include <math.h>

/* Moeller and Trumbore, J. Graphics Tools 2(1), 1997. */
double vugi_triangle_hit(const vug_mesh *mesh, uint32_t t, const double o[3], const double d[3],
    bool *out)
{
    const uint32_t *v = mesh->triangles + 3 * (size_t)t;
    const double *a = mesh->xyz + 3 * (size_t)v[0];
    const double *b = mesh->xyz + 3 * (size_t)v[1], *c = mesh->xyz + 3 * (size_t)v[2];
    double e1[3], e2[3], s[3];
    for (int k = 0; k < 3; k++) {
        e1[k] = b[k] - a[k];
        e2[k] = c[k] - a[k];
        s[k] = o[k] - a[k];
    }
    double p[3] = {d[1] * e2[2] - d[2] * e2[1], d[2] * e2[0] - d[0] * e2[2],
        d[0] * e2[1] - d[1] * e2[0]};
    double det = e1[0] * p[0] + e1[1] * p[1] + e1[2] * p[2];
    if (det == 0.0)
        return INFINITY;
    double u = (s[0] * p[0] + s[1] * p[1] + s[2] * p[2]) / det;
    double q[3] = {s[1] * e1[2] - s[2] * e1[1], s[2] * e1[0] - s[0] * e1[2],
        s[0] * e1[1] - s[1] * e1[0]};
    double w = (d[0] * q[0] + d[1] * q[1] + d[2] * q[2]) / det;
    if (!(u >= 0.0) || !(w >= 0.0) || !(u + w <= 1.0))
        return INFINITY;
    *out = det < 0.0;
    return (e2[0] * q[0] + e2[1] * q[1] + e2[2] * q[2]) / det;
}

double vugi_ray_hit(const vug_mesh *mesh, const double origin[3], const double direction[3],
    double from, uint32_t *triangle)
{
    double nearest = INFINITY;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        bool out;
        double s = vugi_triangle_hit(mesh, (uint32_t)t, origin, direction, &out);
        if (s > from && s < nearest) {
            nearest = s;
            if (triangle)
                *triangle = (uint32_t)t;
        }
    }
    return nearest;
}
