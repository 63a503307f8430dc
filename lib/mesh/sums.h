/* SPDX-License-Identifier: MIT
 * Each triangle spans a tetrahedron with the origin; their signed volumes and moments add up to
 * those of the solid (divergence theorem; B. */
#ifndef VUGI_MESH_SUMS_H
#define VUGI_MESH_SUMS_H

#include "mesh/mesh.h"

/* Sums over triangles; lengths are taken from an origin near them, to keep digits. */
typedef struct vugi_sums {
    double volume6;    /* 6 x signed volume */
    double solid24[3]; /* 24 x first moment of the solid */
    double area2;      /* 2 x area */
    double skin6[3];   /* 6 x first moment of the surface */
    uint64_t degenerate;
} vugi_sums;

/* Adds triangle t. */
void vugi_sums_triangle(vugi_sums *sums, const vug_mesh *mesh, size_t t, const double origin[3]);
void vugi_sums_add(vugi_sums *sums, const vugi_sums *more);

/* Fills volume, area, centroid and degenerate; closed must be set, lo and hi too. */
void vugi_sums_finish(const vugi_sums *sums, const double origin[3], vug_mesh_measures *measures);

/* Zero area, as far as double precision can tell. */
bool vugi_triangle_degenerate(const double *a, const double *b, const double *c);

#endif
