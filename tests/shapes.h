/* SPDX-License-Identifier: MIT
 * Solids of known volume for the tests: bodies of revolution, boxes, and their sums. */
#ifndef VUG_SHAPES_H
#define VUG_SHAPES_H

#include "mesh/mesh.h"

#include "vug.h"

typedef struct shape {
    double *xyz;
    uint32_t *triangles;
    size_t vertex_count, triangle_count;
} shape;

/* Adds the solid swept by a profile (rows of r, z) turned about z in `around` steps. A profile that
 * starts and ends on the axis closes there; any other is taken as a closed ring. The turning is made
 * outward; inward != 0 turns it over, for the wall of a cavity. */
void shape_revolve(shape *s, const double *profile, size_t count, size_t around, int inward);

void shape_box(shape *s, const double lo[3], const double hi[3], int inward);

/* Appends an arc of a circle about (r0, z0) from angle a0 to a1 (degrees from +r), n + 1 points. */
size_t shape_arc(double *profile, size_t at, double r0, double z0, double radius, double a0,
    double a1, size_t n);

/* Rotates all by `angle` degrees about an axis, scales, shifts, mirrors in x when scale < 0. */
void shape_turn(shape *s, const double axis[3], double angle);
void shape_scale(shape *s, double factor);
void shape_shift(shape *s, double x, double y, double z);
void shape_mirror(shape *s);

/* Hands the mesh over; the shape is empty again. Fails the test if the library says no. */
vug_mesh *shape_mesh(vug_context *ctx, shape *s);

/* A hollow ball of outer radius b, inner a, with a bore of radius r along +z (0: none). */
vug_mesh *shape_hollow_ball(vug_context *ctx, double a, double b, double r, size_t around);

/* The shape of a mesh, which is freed. */
shape shape_of_mesh(vug_mesh *mesh);

/* The cavity that one named hole opens, and nothing is looked for. Frees the mesh. */
vug_cavities *cavities_by_hole(vug_context *ctx, vug_mesh *mesh, const double hole[7]);

vug_course_info summary_of(const vug_course *course);

#endif
