/* SPDX-License-Identifier: MIT
 * Triangles onto a grid of points with the half-open fill rule of graphics hardware, decided
 * exactly in integers, row by row. */
#include "column/raster.h"

#include "base/vec.h"

#include <assert.h>
#include <math.h>

enum { ONE = 1 << VUGI_SUBCELL_BITS, HALF = ONE / 2 };

/* Columns about a triangle up to which it is quicker to ask each. */
enum { FEW = 24 };

/* An edge walked from row to row: the first column at or right of it. Exact: x = quotient +
 * remainder / height, moved by one row at a time. */
typedef struct edge_walk {
    int64_t x, step;       /* whole part, in fixed point */
    int64_t rem, rem_step; /* over height, 0 <= rem < height */
    int64_t height;
} edge_walk;

static int64_t floor_div(int64_t a, int64_t b, int64_t *rem)
{
    int64_t q = a / b, r = a % b;
    if (r < 0) {
        r += b;
        q--;
    }
    *rem = r;
    return q;
}

/* The edge from (x0, y0) up to (x1, y1), y1 > y0, at the row whose fixed-point y is given. */
static edge_walk edge_start(int32_t x0, int32_t y0, int32_t x1, int32_t y1, int64_t row_y)
{
    edge_walk e;
    int64_t dx = (int64_t)x1 - x0;
    e.height = (int64_t)y1 - y0;
    e.x = x0 + floor_div((row_y - y0) * dx, e.height, &e.rem);
    e.step = floor_div(dx * ONE, e.height, &e.rem_step);
    return e;
}

static int32_t edge_column(const edge_walk *e)
{
    int64_t ceil_x = e->x + (e->rem > 0);
    return (int32_t)((ceil_x - HALF + ONE - 1) >> VUGI_SUBCELL_BITS);
}

static void edge_next_row(edge_walk *e)
{
    e->x += e->step;
    e->rem += e->rem_step;
    if (e->rem >= e->height) {
        e->rem -= e->height;
        e->x++;
    }
}

typedef struct plane {
    double z0, dzdx, dzdy; /* per fixed-point unit, from the first corner */
    double lo, hi;
    int32_t x0, y0;
} plane;

static plane plane_of(const int32_t x[3], const int32_t y[3], const double z[3], double cross)
{
    double x1 = x[1] - x[0], y1 = y[1] - y[0], z1 = z[1] - z[0];
    double x2 = x[2] - x[0], y2 = y[2] - y[0], z2 = z[2] - z[0];
    plane p;
    p.x0 = x[0];
    p.y0 = y[0];
    p.z0 = z[0];
    p.dzdx = (z1 * y2 - z2 * y1) / cross;
    p.dzdy = (z2 * x1 - z1 * x2) / cross;
    p.lo = vugi_lesser(z[0], vugi_lesser(z[1], z[2]));
    p.hi = vugi_greater(z[0], vugi_greater(z[1], z[2]));
    return p;
}

/* A steep triangle's slope is huge: rounding must not carry z out of its range. */
static double plane_at(const plane *p, int32_t x, int32_t y)
{
    double z = p->z0 + p->dzdx * (x - p->x0) + p->dzdy * (y - p->y0);
    return z < p->lo ? p->lo : z > p->hi ? p->hi : z;
}

static void put_in_order(const int32_t y[3], int *low, int *high)
{
    if (y[*high] < y[*low]) {
        int swap = *low;
        *low = *high;
        *high = swap;
    }
}

/* A column of a row; the list has room for it. */
static void put(const plane *p, int32_t row, int32_t i, int32_t nx, uint32_t code,
    vugi_crossings *out)
{
    uint32_t column = (uint32_t)row * (uint32_t)nx + (uint32_t)i;
    double height = plane_at(p, i * ONE + HALF, row * ONE + HALF);
    out->list[out->count++] = (vugi_crossing){height, column, code};
}

/* The columns from .. to - 1 of a row. false: no memory. */
static bool put_row(const vugi_allocator *mem, const plane *p, int32_t row, int32_t from,
    int32_t to, int32_t nx, uint32_t code, vugi_crossings *out)
{
    assert(row >= 0 && from >= 0 && to <= nx);
    if (to <= from)
        return true;
    if (!vugi_reserve(mem, &out->list, &out->capacity, out->count + (size_t)(to - from),
            sizeof *out->list))
        return false;
    for (int32_t i = from; i < to; i++)
        put(p, row, i, nx, code, out);
    return true;
}

/* Columns (or rows) that stand between the lowest and the highest of three places. */
typedef struct stretch {
    int32_t from, to;
} stretch;

static stretch between(int32_t a, int32_t b, int32_t c, int32_t count)
{
    int32_t lo = a < b ? a : b, hi = a < b ? b : a;
    stretch s = {vugi_raster_first(lo < c ? lo : c), vugi_raster_first(hi > c ? hi : c)};
    s.from = s.from < 0 ? 0 : s.from;
    s.to = s.to > count ? count : s.to;
    return s;
}

/* A side of a triangle: below 0 at places beyond it. Of places on it, those at the left and at the bottom are in. */
typedef struct side {
    int64_t at, right, up; /* at the first place, and what a column and a row more add */
} side;

/* The side between two corners, as seen from the first place, with the triangle on its left. */
static inline side side_of(int64_t ax, int64_t ay, int64_t bx, int64_t by)
{
    const int64_t out = (by > ay) | ((by == ay) & (bx < ax));
    return (side){ax * by - bx * ay - out, (ay - by) * ONE, (bx - ax) * ONE};
}

/* The places in a triangle: the column in the lower 16 bits of each, the row in the upper. Returns how many. */
static size_t places_in(const int32_t x[3], const int32_t y[3], bool over, stretch columns,
    stretch rows, uint32_t *place)
{
    const int64_t px = (int64_t)columns.from * ONE + HALF, py = (int64_t)rows.from * ONE + HALF;
    const int b = 2 - over, c = 1 + over;
    const int64_t ax = x[0] - px, ay = y[0] - py, bx = x[b] - px, by = y[b] - py, cx = x[c] - px,
                  cy = y[c] - py;
    side s = side_of(ax, ay, bx, by), t = side_of(bx, by, cx, cy), u = side_of(cx, cy, ax, ay);
    size_t found = 0;
    for (int32_t row = rows.from; row < rows.to; row++) {
        int64_t at_s = s.at, at_t = t.at, at_u = u.at;
        for (int32_t i = columns.from; i < columns.to; i++) {
            place[found] = (uint32_t)i | (uint32_t)row << 16;
            found += (at_s | at_t | at_u) >= 0;
            at_s += s.right;
            at_t += t.right;
            at_u += u.right;
        }
        s.at += s.up;
        t.at += t.up;
        u.at += u.up;
    }
    return found;
}

/* The same rule as row by row, place by place: for a triangle over few columns. The list has room for FEW. */
static void put_few(const int32_t x[3], const int32_t y[3], const double z[3], int64_t cross,
    stretch columns, stretch rows, int32_t nx, uint32_t code, vugi_crossings *out)
{
    uint32_t place[FEW];
    const size_t found = places_in(x, y, cross > 0, columns, rows, place);
    if (found == 0)
        return;
    const plane p = plane_of(x, y, z, (double)cross);
    for (size_t k = 0; k < found; k++)
        put(&p, (int32_t)(place[k] >> 16), (int32_t)(place[k] & 0xffff), nx, code, out);
}

bool vugi_raster_triangle(const vugi_allocator *mem, const int32_t x[3], const int32_t y[3],
    const double z[3], uint32_t number, int32_t nx, int32_t ny, vugi_crossings *out)
{
    const stretch rows = between(y[0], y[1], y[2], ny), columns = between(x[0], x[1], x[2], nx);
    if (rows.from >= rows.to || columns.from >= columns.to)
        return true;
    int64_t cross = ((int64_t)x[1] - x[0]) * ((int64_t)y[2] - y[0])
        - ((int64_t)x[2] - x[0]) * ((int64_t)y[1] - y[0]);
    if (cross == 0)
        return true;
    /* seen from above clockwise: facing down, so entering */
    uint32_t code = 2 * number + (cross < 0);
    if ((int64_t)(rows.to - rows.from) * (columns.to - columns.from) <= FEW) {
        if (!vugi_reserve(mem, &out->list, &out->capacity, out->count + FEW, sizeof *out->list))
            return false;
        put_few(x, y, z, cross, columns, rows, nx, code, out);
        return true;
    }
    int a = 0, b = 1, c = 2; /* corners from low y to high y */
    put_in_order(y, &a, &b);
    put_in_order(y, &b, &c);
    put_in_order(y, &a, &b);

    const plane p = plane_of(x, y, z, (double)cross);
    int32_t row = rows.from, row_end = rows.to, row_mid = vugi_raster_first(y[b]);
    int64_t row_y = (int64_t)row * ONE + HALF;
    edge_walk across = edge_start(x[a], y[a], x[c], y[c], row_y); /* the long side */
    edge_walk bend = row < row_mid ? edge_start(x[a], y[a], x[b], y[b], row_y)
                                   : edge_start(x[b], y[b], x[c], y[c], row_y);
    bool second = row >= row_mid;
    for (; row < row_end; row++) {
        if (!second && row >= row_mid) {
            second = true;
            bend = edge_start(x[b], y[b], x[c], y[c], (int64_t)row * ONE + HALF);
        }
        int32_t from = edge_column(&across), to = edge_column(&bend);
        int32_t first = from < to ? from : to, last = from < to ? to : from;
        if (!put_row(mem, &p, row, first < 0 ? 0 : first, last > nx ? nx : last, nx, code, out))
            return false;
        edge_next_row(&across);
        edge_next_row(&bend);
    }
    return true;
}

bool vugi_line_in_bar(double x, double y, const double p[3], const double a[3], double length,
    double r, double *lo, double *hi)
{
    double dx = x - p[0], dy = y - p[1], along = dx * a[0] + dy * a[1];
    double qa = 1.0 - a[2] * a[2], qb = -along * a[2],
           qc = dx * dx + dy * dy - along * along - r * r;
    double s0 = -INFINITY, s1 = INFINITY; /* z - p[2] */
    if (qa < 1e-12) {
        if (qc > 0.0)
            return false;
    } else {
        double disc = qb * qb - qa * qc;
        if (disc <= 0.0)
            return false;
        s0 = (-qb - sqrt(disc)) / qa;
        s1 = (-qb + sqrt(disc)) / qa;
    }
    if (fabs(a[2]) < 1e-12) {
        if (along < 0.0 || along > length)
            return false;
    } else {
        double e0 = (0.0 - along) / a[2], e1 = (length - along) / a[2];
        s0 = fmax(s0, fmin(e0, e1));
        s1 = fmin(s1, fmax(e0, e1));
    }
    if (s0 >= s1)
        return false;
    *lo = p[2] + s0;
    *hi = p[2] + s1;
    return true;
}

bool vugi_line_behind(double x, double y, const double p[3], const double n[3], double *lo,
    double *hi)
{
    double before = (x - p[0]) * n[0] + (y - p[1]) * n[1];
    if (fabs(n[2]) < 1e-12)
        return before < 0.0 && *lo < *hi;
    double z = p[2] - before / n[2];
    if (n[2] > 0.0)
        *hi = fmin(*hi, z);
    else
        *lo = fmax(*lo, z);
    return *lo < *hi;
}
