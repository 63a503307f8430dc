/* SPDX-License-Identifier: MIT
 * A cap spans the rim from a peak, where the skin around the rim would meet if it went on in its planes: the point
 * nearest to all of them by least squares, as for corners of dual contouring (Ju, Losasso, Schaefer, Warren
 * 2002, ACM Trans. Graph. 21:339). A rim over one edge of the skin, or around one corner, has exactly the
 * skin for its cap then.
 *
 * A skin that is curved lies lower than its tangents meet. Over one of second order, z = q(x, y), tangents at the
 * unit circle meet at -q there, the rim at q, 2 c apart in the mean over it; the volume under the skin is 3/4 of
 * that under a fan from where they meet. */
#include "cavity/cap.h"

#include "base/angle.h"
#include "base/vec.h"
#include "cavity/trust.h"
#include "mesh/edges.h"

#include <math.h>
#include <string.h>

static const double CURVED = 0.75;

/* A rim that lies in one plane, but for so much of its width, has a flat cap: a mouth that was cut off, or a bore square
 * to the skin. */
static const double PLANE = 2e-3;

/* Of the rise of a curved skin: how far it may be off. From second order to first it is 1 - CURVED; of random made parts,
 * whose skins have facets, so much covers 19 of 20. */
static const double OTHER_ORDER = 0.3;

/* Skin faces outward at such a cosine at least, and tells its plane if its height is so much of its length. */
static const double FACING = 0.05, FLAT = 1e-4;

/* Planes are one if the cosine between them is so much. A facet so low, of its length, is a sliver, whose corners rounding
 * may have turned any way: it is in a plane if they all are, within so much of the opening's width. */
static const double ONE_PLANE = 1.0 - 1e-6, SLIVER = 0.02, IN_PLANE = 1e-4;

/* A peak sees all of the rim but for so much of its area, and is no higher than that, of its radius; planes that are as
 * far from it, of its rise, don't meet there. */
static const double HIDDEN = 0.01, HIGHEST = 1.5, ASTRAY = 1.0, ASTRAY_FLAT = 0.1;

/* Steps towards the nearest point, from the axis on: what the planes leave open stays as it is. Of a curved skin one,
 * held so that the peak stays over the hole. */
enum { STEPS = 12, PLANES = 3 };
static const double HOLD = 1e-4, HOLD_CURVED = 0.03;

typedef struct planes {
    double a[3][3], b[3], c, weight; /* of the sum of squares about the centre: x.a x - 2 b.x + c */
    double normal[PLANES][3], off[PLANES]; /* those that differ, from the centre */
    size_t different;                      /* PLANES + 1: more */
} planes;

/* A triangle of the skin, about the centre of the opening. */
typedef struct facet {
    double corner[3][3], normal[3];
    double flat; /* its height as a part of its length */
} facet;

static facet facet_at(const vug_mesh *mesh, uint32_t t, const vugi_opening *o)
{
    facet f;
    double longest2 = 0.0;
    for (int k = 0; k < 3; k++)
        vugi_subtract(mesh->xyz + 3 * (size_t)mesh->triangles[3 * (size_t)t + (size_t)k], o->center,
            f.corner[k]);
    for (int k = 0; k < 3; k++)
        longest2 = fmax(longest2, vugi_square_distance(f.corner[k], f.corner[(k + 1) % 3]));
    vugi_triangle_cross(f.corner[0], f.corner[1], f.corner[2], f.normal);
    f.flat = longest2 > 0.0 ? vugi_normalise(f.normal) / longest2 : 0.0;
    return f;
}

/* The number of the plane that a facet lies in, of those that are known; PLANES: none. A sliver's own normal says little. */
static size_t plane_of(const planes *p, const facet *f, double size)
{
    size_t i = 0;
    for (; i < p->different && i < PLANES; i++) {
        double away = 0.0;
        for (int k = 0; k < 3; k++)
            away = fmax(away, fabs(vugi_dot(f->corner[k], p->normal[i]) - p->off[i]));
        if (away <= IN_PLANE * size
            && (f->flat < SLIVER || vugi_dot(p->normal[i], f->normal) > ONE_PLANE))
            return i;
    }
    return PLANES;
}

/* The skin beyond one edge of the rim. */
static void add_plane(const facet *f, double length, const vugi_opening *o, planes *p)
{
    size_t known = plane_of(p, f, sqrt(o->area));
    const double *n = known < PLANES ? p->normal[known] : f->normal;
    double off = known < PLANES ? p->off[known] : vugi_dot(f->corner[0], n);
    if (known == PLANES && (f->flat < FLAT || vugi_dot(n, o->normal) < FACING))
        return;
    for (int i = 0; i < 3; i++) {
        for (int k = 0; k < 3; k++)
            p->a[i][k] += length * n[i] * n[k];
        p->b[i] += length * off * n[i];
    }
    p->c += length * off * off;
    p->weight += length;
    if (known < PLANES)
        return;
    if (p->different < PLANES) {
        memcpy(p->normal[p->different], n, sizeof p->normal[0]);
        p->off[p->different] = off;
    }
    p->different += p->different <= PLANES;
}

/* Slivers come last, when the planes that they may lie in are known. */
static planes skin_around(const vug_mesh *mesh, const uint32_t *other, const vugi_wall *w,
    const vugi_opening *o)
{
    planes p = {.weight = 0.0};
    for (int slivers = 0; slivers < 2; slivers++)
        for (size_t i = 0; i < w->rim_count; i++) {
            uint32_t h = w->rim[i];
            if (other[h] == UINT32_MAX)
                continue;
            const facet f = facet_at(mesh, other[h], o);
            if ((f.flat < SLIVER) == slivers)
                add_plane(&f,
                    vugi_point_distance(mesh->xyz + 3 * (size_t)vugi_edge_from(mesh, h),
                        mesh->xyz + 3 * (size_t)vugi_edge_to(mesh, h)),
                    o, &p);
        }
    return p;
}

/* x of m x = b by Cramer's rule. */
static void solve(double m[3][3], const double b[3], double x[3])
{
    double c[3][3], det;
    for (int k = 0; k < 3; k++)
        vugi_cross(m[(k + 1) % 3], m[(k + 2) % 3], c[k]);
    det = vugi_dot(m[0], c[0]);
    for (int k = 0; k < 3; k++)
        x[k] = (b[0] * c[0][k] + b[1] * c[1][k] + b[2] * c[2][k]) / det;
}

/* From the centre to the point nearest to all planes. Returns how far they are from it, as a mean. */
static double go_to_peak(const planes *p, double x[3])
{
    const bool curved = p->different > PLANES;
    double held[3][3], rest[3], step[3], sum = p->c;
    memcpy(held, p->a, sizeof held);
    for (int k = 0; k < 3; k++) {
        held[k][k] += (curved ? HOLD_CURVED : HOLD) * p->weight;
        x[k] = 0.0;
    }
    for (int i = 0; i < (curved ? 1 : STEPS); i++) {
        for (int k = 0; k < 3; k++)
            rest[k] = p->b[k] - vugi_dot(p->a[k], x);
        solve(held, rest, step);
        for (int k = 0; k < 3; k++)
            x[k] += step[k];
    }
    for (int k = 0; k < 3; k++)
        sum += x[k] * (vugi_dot(p->a[k], x) - 2.0 * p->b[k]);
    return sqrt(fmax(0.0, sum / p->weight));
}

static bool is_seen(const vug_mesh *mesh, const vugi_wall *w, const double center[3],
    const double x[3])
{
    double at[3], peak[3], before[3] = {0.0, 0.0, 0.0}, area = 0.0, hidden = 0.0;
    vugi_along(center, x, 1.0, at);
    vugi_wall_frame(w, at, peak);
    for (size_t i = 0; i <= w->rim_count; i++) {
        double xys[3];
        vugi_wall_frame(w, mesh->xyz + 3 * (size_t)vugi_edge_from(mesh, w->rim[i % w->rim_count]),
            xys);
        vugi_subtract(xys, peak, xys);
        double twice = i > 0 ? before[0] * xys[1] - before[1] * xys[0] : 0.0;
        area += twice;
        hidden += fmax(0.0, -twice);
        memcpy(before, xys, sizeof before);
    }
    return hidden <= HIDDEN * area;
}

void vugi_cap_fit(const vug_mesh *mesh, const uint32_t *other, const vugi_wall *w, vugi_opening *o)
{
    const planes p = skin_around(mesh, other, w, o);
    double x[3];
    memcpy(o->peak, o->center, sizeof o->peak);
    o->peaked = false;
    if (vugi_out_of_plane(o) <= PLANE * sqrt(o->area))
        return;
    if (!(p.weight > 0.5 * o->perimeter) || p.different < 2)
        return;
    double astray = go_to_peak(&p, x), rise = vugi_dot(x, o->normal);
    bool curved = p.different > PLANES;
    if (fabs(rise) > HIGHEST * sqrt(o->area / VUGI_PI) || !is_seen(mesh, w, o->center, x)
        || astray > (curved ? ASTRAY : ASTRAY_FLAT) * fabs(rise))
        return;
    vugi_along(o->center, x, curved ? CURVED : 1.0, o->peak);
    o->peaked = true;
    o->cap_error = o->area / 3.0 * (curved ? OTHER_ORDER * fabs(rise) : astray);
}
