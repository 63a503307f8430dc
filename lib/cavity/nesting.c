/* SPDX-License-Identifier: MIT */
#include "cavity/nesting.h"

#include <math.h>

/* The middle of the largest wall triangle of shell s. */
static void inner_point(const vugi_tagged *work, const vug_shells *shells, size_t s, double p[3])
{
    const vug_mesh *mesh = work->mesh;
    double most = -1.0;
    for (size_t i = shells->first[s]; i < shells->first[s + 1]; i++) {
        size_t t = shells->order[i];
        double area = vugi_triangle_area(mesh, t);
        if (work->tag[t] >= 0 || area <= most)
            continue;
        most = area;
        for (int k = 0; k < 3; k++) {
            p[k] = 0.0;
            for (int c = 0; c < 3; c++)
                p[k] += mesh->xyz[3 * (size_t)mesh->triangles[3 * t + (size_t)c] + (size_t)k] / 3.0;
        }
    }
}

/* Height above p at which the triangle is met going up, with its sense: +1 facing up, -1 down, 0
 * missed. Corners on the line fall to one side by the sign of zero cross products: exact ties are
 * decided the same way for the two triangles of an edge. */
static int crosses_above(const vug_mesh *mesh, size_t t, const double p[3])
{
    const uint32_t *v = mesh->triangles + 3 * t;
    const double *a = mesh->xyz + 3 * (size_t)v[0], *b = mesh->xyz + 3 * (size_t)v[1];
    const double *c = mesh->xyz + 3 * (size_t)v[2];
    if ((a[0] < p[0] && b[0] < p[0] && c[0] < p[0]) || (a[0] > p[0] && b[0] > p[0] && c[0] > p[0])
        || (a[1] < p[1] && b[1] < p[1] && c[1] < p[1]) || (a[1] > p[1] && b[1] > p[1] && c[1] > p[1])
        || (a[2] < p[2] && b[2] < p[2] && c[2] < p[2]))
        return 0;
    const double *corner[3] = {a, b, c};
    int crossings = 0, sense = 0;
    double weight[3], sum = 0.0, z = 0.0;
    for (int k = 0; k < 3; k++) { /* half-open rule along y, as in the columns */
        const double *q = corner[k], *r = corner[(k + 1) % 3];
        bool up = q[1] <= p[1] && r[1] > p[1], down = r[1] <= p[1] && q[1] > p[1];
        if (!up && !down)
            continue;
        const double *lo = up ? q : r, *hi = up ? r : q;
        double x = lo[0] + (p[1] - lo[1]) * (hi[0] - lo[0]) / (hi[1] - lo[1]);
        if (x > p[0]) {
            crossings++;
            sense += up ? 1 : -1;
        }
    }
    if (crossings != 1)
        return 0;
    for (int k = 0; k < 3; k++) {
        const double *q = corner[(k + 1) % 3], *r = corner[(k + 2) % 3];
        weight[k] = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
        sum += weight[k];
    }
    for (int k = 0; k < 3; k++)
        z += weight[k] / sum * corner[k][2];
    return z > p[2] ? sense : 0;
}

static bool inside(const vug_mesh *mesh, const vug_shells *shells, size_t s, const double p[3])
{
    const vug_mesh_measures *m = shells->measures + s;
    int winding = 0;
    for (int k = 0; k < 3; k++)
        if (p[k] < m->lo_mm[k] || p[k] > m->hi_mm[k])
            return false;
    for (size_t i = shells->first[s]; i < shells->first[s + 1]; i++)
        winding += crosses_above(mesh, shells->order[i], p);
    return winding != 0;
}

vug_status vugi_nesting(vug_context *ctx, const vugi_tagged *work, const vug_shells *shells,
    int32_t *parent)
{
    for (size_t s = 0; s < shells->count; s++) {
        double p[3] = {NAN, NAN, NAN}, least = INFINITY;
        vug_status status = vugi_step(ctx, 0.0);
        if (status)
            return status;
        parent[s] = -1;
        inner_point(work, shells, s, p);
        for (size_t o = 0; o < shells->count; o++) {
            double volume = fabs(shells->measures[o].volume_mm3);
            if (o == s || volume >= least || volume <= fabs(shells->measures[s].volume_mm3)
                || !inside(work->mesh, shells, o, p))
                continue;
            least = volume;
            parent[s] = (int32_t)o;
        }
    }
    return VUG_OK;
}
