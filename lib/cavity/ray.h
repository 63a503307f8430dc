/* SPDX-License-Identifier: MIT
 * Ray against mesh, brute force: asked a few dozen times for a part. */
#ifndef VUGI_CAVITY_RAY_H
#define VUGI_CAVITY_RAY_H

#include "mesh/mesh.h"

/* Distance along the line from o in direction d to triangle t, INFINITY if it misses; below 0 behind o.
 * *out on a hit: the line leaves the solid there. */
double vugi_triangle_hit(const vug_mesh *mesh, uint32_t t, const double o[3], const double d[3],
    bool *out);

/* First hit of the ray from origin along unit direction with mesh beyond distance `from`: distance,
 * or INFINITY. *triangle (may be NULL) gets the one hit. */
double vugi_ray_hit(const vug_mesh *mesh, const double origin[3], const double direction[3],
    double from, uint32_t *triangle);

#endif
