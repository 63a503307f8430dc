/* SPDX-License-Identifier: MIT
 * Room between bores. */
#include "cavity/clear.h"

#include "base/vec.h"

#include <math.h>

static double within(double t)
{
    return fmin(1.0, fmax(0.0, t));
}

/* Ericson, Real-Time Collision Detection (2005), 5.1.9. */
double vugi_stretch_distance(const double a[3], const double b[3], const double c[3],
    const double d[3])
{
    double u[3], v[3], r[3], p[3], q[3], s = 0.0, t = 0.0;
    vugi_subtract(b, a, u);
    vugi_subtract(d, c, v);
    vugi_subtract(a, c, r);
    double uu = vugi_dot(u, u), vv = vugi_dot(v, v), uv = vugi_dot(u, v);
    double ur = vugi_dot(u, r), vr = vugi_dot(v, r), det = uu * vv - uv * uv;
    if (det > 1e-12 * uu * vv)
        s = within((uv * vr - ur * vv) / det);
    t = vv > 0.0 ? (uv * s + vr) / vv : 0.0;
    if (!(t >= 0.0 && t <= 1.0) || !(det > 1e-12 * uu * vv)) {
        t = within(t);
        s = uu > 0.0 ? within((uv * t - ur) / uu) : 0.0;
    }
    vugi_along(a, u, s, p);
    vugi_along(c, v, t, q);
    return vugi_point_distance(p, q);
}

bool vugi_openings_clear(const vug_cavities *cavities, const double a[3], const double b[3],
    double radius, double apart)
{
    for (size_t i = 0; i < cavities->opening_count; i++) {
        const vugi_opening *o = cavities->opening + i;
        if (vugi_stretch_distance(a, b, o->center, o->inner) < radius + o->radius + apart)
            return false;
    }
    return true;
}
