/* SPDX-License-Identifier: MIT */
#include "pose/stability.h"

#include "base/sort.h"
#include "base/vec.h"
#include "column/pose.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

static int by_xy(const void *a, const void *b, const void *user)
{
    const double *p = a, *q = b;
    (void)user;
    if (p[0] != q[0])
        return p[0] < q[0] ? -1 : 1;
    return p[1] < q[1] ? -1 : p[1] > q[1];
}

static double turn(const double *o, const double *a, const double *b)
{
    return (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
}

/* Andrew's monotone chain (Inf. Process. Lett. 9(5), 1979) over points in order: hull has room for
 * 2 count points. */
static size_t convex_hull(const double *point, size_t count, double *hull)
{
    assert(count > 0);
    size_t n = 0;
    for (int pass = 0; pass < 2; pass++) {
        size_t start = n;
        for (size_t k = 0; k < count; k++) {
            const double *p = point + 2 * (pass ? count - 1 - k : k);
            while (n >= start + 2 && turn(hull + 2 * (n - 2), hull + 2 * (n - 1), p) <= 0.0)
                n--;
            hull[2 * n] = p[0];
            hull[2 * n + 1] = p[1];
            n++;
        }
        n--; /* the last is the first of the other pass */
    }
    return n;
}

/* Distance of c from the nearest edge, counter-clockwise hull; negative outside. */
static double margin_in(const double *hull, size_t n, const double c[2])
{
    double inside = INFINITY;
    for (size_t i = 0; i < n; i++) {
        const double *a = hull + 2 * i, *b = hull + 2 * ((i + 1) % n);
        double length = hypot(b[0] - a[0], b[1] - a[1]);
        if (length > 0.0)
            inside = fmin(inside, turn(a, b, c) / length);
    }
    return inside;
}

/* Distance of c from the stretch a to b, which may be one point. */
static double from_stretch(const double *a, const double *b, const double *c)
{
    double along[2] = {b[0] - a[0], b[1] - a[1]},
           square = along[0] * along[0] + along[1] * along[1];
    double part = (c[0] - a[0]) * along[0] + (c[1] - a[1]) * along[1];
    part = square > 0.0 ? fmax(0.0, fmin(1.0, part / square)) : 0.0;
    return hypot(a[0] + part * along[0] - c[0], a[1] + part * along[1] - c[1]);
}

vug_status vugi_static_margin(const vugi_allocator *mem, const vug_mesh *part,
    const double center[3], const double up[3], double tolerance, double *margin)
{
    double basis[9], lowest = INFINITY, mass[3];
    size_t count = 0, capacity = 0;
    double *point = NULL;
    vugi_basis(up, basis);
    vugi_to_pose(basis, center, mass);
    for (size_t v = 0; v < part->vertex_count; v++) {
        const double *p = part->xyz + 3 * v;
        lowest = fmin(lowest, vugi_dot(p, up));
    }
    for (size_t v = 0; v < part->vertex_count; v++) {
        const double *p = part->xyz + 3 * v;
        double pose[3];
        if (vugi_dot(p, up) > lowest + tolerance)
            continue;
        vugi_to_pose(basis, p, pose);
        if (!vugi_reserve(mem, &point, &capacity, 2 * (count + 1), sizeof *point)) {
            vugi_free(mem, point);
            return VUG_ERR_MEMORY;
        }
        point[2 * count] = pose[0];
        point[2 * count + 1] = pose[1];
        count++;
    }
    double *hull = vugi_alloc(mem, 4 * count + 4, sizeof *hull);
    if (!hull || !vugi_sort(mem, point, count, 2 * sizeof *point, by_xy, NULL)) {
        vugi_free(mem, point);
        vugi_free(mem, hull);
        return VUG_ERR_MEMORY;
    }
    if (count >= 3) {
        size_t n = convex_hull(point, count, hull);
        *margin = n >= 3 ? margin_in(hull, n, mass) : -fabs(margin_in(hull, n, mass));
    } else {
        *margin = -from_stretch(point, point + 2 * (count - 1), mass);
    }
    vugi_free(mem, point);
    vugi_free(mem, hull);
    return VUG_OK;
}
