/* SPDX-License-Identifier: MIT
 * Ray against mesh, brute force: asked a few dozen times for a part. */
#ifndef VUGI_CAVITY_RAY_H
#define VUGI_CAVITY_RAY_H

#include "cavity/section.h"

#include "mesh/mesh.h"

/* First hit of the ray from origin along unit direction with mesh beyond distance `from`: distance,
 * or INFINITY. *triangle (may be NULL) gets the one hit. */
double vugi_ray_hit(const vug_mesh *mesh, const double origin[3], const double direction[3],
    double from, uint32_t *triangle);

/* Least and greatest places of a triangle in a plane's x and y. */
void vugi_triangle_along(const vug_mesh *mesh, uint32_t triangle, const vugi_plane *across,
    double lo[2], double hi[2]);

/* The triangles that come within radius, in x and in y, of the line through a plane's centre along its
 * normal, into *list (caller frees). */
vug_status vugi_triangles_along(vug_context *ctx, const vug_mesh *mesh, const vugi_plane *across,
    double radius, uint32_t **list, size_t *count);

/* The same as vugi_ray_hit() among triangles of a list. *out (may be NULL): the ray leaves the solid there. */
double vugi_ray_hit_of(const vug_mesh *mesh, const uint32_t *list, size_t count,
    const double origin[3], const double direction[3], double from, bool *out);

#endif
