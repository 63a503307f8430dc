/* SPDX-License-Identifier: MIT
 * Triangles onto a grid of points with the half-open fill rule of graphics hardware, decided
 * exactly in integers, row by row. */
#include "column/raster.h"

#include "base/vec.h"

#include <assert.h>
#include <math.h>

enum { ONE = 1 << VUGI_SUBCELL_BITS, HALF = ONE / 2 };

/* Columns about a triangle up to which it is quicker to ask each. */
enum { FEW = 8 };

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

/* Twice its area: 0 if it stands on edge. */
static int64_t cross_of(const int32_t x[3], const int32_t y[3])
{
    return ((int64_t)x[1] - x[0]) * ((int64_t)y[2] - y[0])
        - ((int64_t)x[2] - x[0]) * ((int64_t)y[1] - y[0]);
}

/* Seen from above clockwise: facing down, so entering. */
static uint32_t code_of(uint32_t number, int64_t cross)
{
    return 2 * number + (cross < 0);
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
    out->per_column[column]++;
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

/* Does the row of a place meet a side that the place is right of, or on? */
static inline bool is_right(const int32_t x[3], const int32_t y[3], int from, int to, int32_t px,
    int32_t py)
{
    const int64_t right = ((int64_t)px - x[from]) * ((int64_t)y[to] - y[from])
        - ((int64_t)py - y[from]) * ((int64_t)x[to] - x[from]);
    const bool rises = y[to] > y[from];
    return ((y[from] <= py) ^ (y[to] <= py)) & ((rises & (right >= 0)) | (!rises & (right <= 0)));
}

/* The same rule as row by row, place by place, for a triangle over few columns: a place is in it that is right of one of
 * the two sides that its row meets and not of the other. Nothing is asked that a processor could guess wrong, but
 * whether it is. */
static void put_few(const int32_t x[3], const int32_t y[3], const double z[3], stretch columns,
    stretch rows, int32_t nx, uint32_t number, vugi_crossings *out)
{
    for (int32_t row = rows.from; row < rows.to; row++)
        for (int32_t i = columns.from; i < columns.to; i++) {
            const int32_t px = i * ONE + HALF, py = row * ONE + HALF;
            if (!(is_right(x, y, 0, 1, px, py) ^ is_right(x, y, 1, 2, px, py)
                    ^ is_right(x, y, 2, 0, px, py)))
                continue;
            const int64_t cross = cross_of(x, y);
            const plane p = plane_of(x, y, z, (double)cross);
            assert(cross != 0);
            put(&p, row, i, nx, code_of(number, cross), out);
        }
}

bool vugi_raster_triangle(const vugi_allocator *mem, const int32_t x[3], const int32_t y[3],
    const double z[3], uint32_t number, int32_t nx, int32_t ny, vugi_crossings *out)
{
    const stretch rows = between(y[0], y[1], y[2], ny), columns = between(x[0], x[1], x[2], nx);
    if (rows.from >= rows.to || columns.from >= columns.to)
        return true;
    if ((int64_t)(rows.to - rows.from) * (columns.to - columns.from) <= FEW) {
        if (out->count + FEW > out->capacity
            && !vugi_reserve(mem, &out->list, &out->capacity, out->count + FEW, sizeof *out->list))
            return false;
        put_few(x, y, z, columns, rows, nx, number, out);
        return true;
    }
    const int64_t cross = cross_of(x, y);
    const uint32_t code = code_of(number, cross);
    if (cross == 0)
        return true;
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
