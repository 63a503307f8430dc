/* SPDX-License-Identifier: MIT
 * Each triangle spans a tetrahedron with the origin; their signed volumes and moments add up to
 * those of the solid (divergence theorem; B. Mirtich, Fast and accurate computation of polyhedral
 * mass properties, Journal of Graphics Tools 1(2), 1996). */
#include "mesh/sums.h"

#include "base/vec.h"

#include <assert.h>
#include <math.h>

/* The cross product of two sides is exact to about 2^-53 of their product: less is nothing. */
static bool vanishes(const double normal[3], const double u[3], const double v[3])
{
    double limit = 0x1p-50;
    return vugi_dot(normal, normal) <= limit * limit * vugi_dot(u, u) * vugi_dot(v, v);
}

static void sides(const double *a, const double *b, const double *c, double u[3], double v[3])
{
    for (int k = 0; k < 3; k++) {
        u[k] = b[k] - a[k];
        v[k] = c[k] - a[k];
    }
}

bool vugi_triangle_degenerate(const double *a, const double *b, const double *c)
{
    double u[3], v[3], normal[3];
    sides(a, b, c, u, v);
    vugi_cross(u, v, normal);
    return vanishes(normal, u, v);
}

void vugi_sums_triangle(vugi_sums *sums, const vug_mesh *mesh, size_t t, const double origin[3])
{
    assert(t < mesh->triangle_count);
    const uint32_t *corner = mesh->triangles + 3 * t;
    double p[3][3], u[3], v[3], normal[3];
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            p[i][k] = mesh->xyz[3 * (size_t)corner[i] + (size_t)k] - origin[k];
    sides(p[0], p[1], p[2], u, v);
    vugi_cross(u, v, normal);
    if (vanishes(normal, u, v))
        sums->degenerate++;
    double volume6 = vugi_dot(p[0], normal);
    double area2 = vugi_length(normal);
    sums->volume6 += volume6;
    sums->area2 += area2;
    for (int k = 0; k < 3; k++) {
        double corners = p[0][k] + p[1][k] + p[2][k];
        sums->solid24[k] += volume6 * corners;
        sums->skin6[k] += area2 * corners;
    }
}

void vugi_sums_add(vugi_sums *sums, const vugi_sums *more)
{
    sums->volume6 += more->volume6;
    sums->area2 += more->area2;
    for (int k = 0; k < 3; k++) {
        sums->solid24[k] += more->solid24[k];
        sums->skin6[k] += more->skin6[k];
    }
    sums->degenerate += more->degenerate;
}

void vugi_sums_finish(const vugi_sums *sums, const double origin[3], vug_mesh_measures *measures)
{
    measures->volume_mm3 = sums->volume6 / 6.0;
    measures->area_mm2 = sums->area2 / 2.0;
    measures->degenerate = sums->degenerate;
    /* A volume that is all rounding says nothing about where its centre is. */
    double width = 0.0;
    for (int k = 0; k < 3; k++)
        width = fmax(width, measures->hi_mm[k] - measures->lo_mm[k]);
    bool solid = measures->closed && fabs(sums->volume6) > 1e-12 * width * sums->area2;
    for (int k = 0; k < 3; k++) {
        double middle = 0.5 * (measures->lo_mm[k] + measures->hi_mm[k]);
        if (solid)
            middle = origin[k] + sums->solid24[k] / (4.0 * sums->volume6);
        else if (sums->area2 > 0.0)
            middle = origin[k] + sums->skin6[k] / (3.0 * sums->area2);
        measures->centroid_mm[k] = middle;
    }
}
