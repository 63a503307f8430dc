/* SPDX-License-Identifier: MIT
 * Inside of the column floor: where a triangle crosses the columns. */
#ifndef VUGI_COLUMN_RASTER_H
#define VUGI_COLUMN_RASTER_H

#include "base/base.h"

/* Corners are snapped to this fraction of the spacing, so that the fill rule is decided in
 * integers: two triangles that share an edge then never both cover a column, and never leave one
 * out. 2^14 columns * 2^16 fit 31 bits. */
enum { VUGI_SUBCELL_BITS = 16 };

typedef struct vugi_crossing {
    double z;
    uint32_t column;
    uint32_t code; /* 2 * triangle, + 1 when going up enters its body */
} vugi_crossing;

typedef struct vugi_crossings {
    vugi_crossing *list;
    size_t count, capacity;
} vugi_crossings;

/* Number of the first column (or row) whose place is at or above v. Triangles whose corners all have the same
 * one cover no column. */
static inline int32_t vugi_raster_first(int32_t v)
{
    return (v + (1 << VUGI_SUBCELL_BITS) / 2 - 1) >> VUGI_SUBCELL_BITS;
}

/* Appends the crossings of one triangle. corner: fixed-point x and y (column i stands at
 * (i + 1/2) << VUGI_SUBCELL_BITS); z: heights; number: of the triangle. false: no memory. */
bool vugi_raster_triangle(const vugi_allocator *mem, const int32_t x[3], const int32_t y[3],
    const double z[3], uint32_t number, int32_t nx, int32_t ny, vugi_crossings *out);

/* The vertical line through (x, y) inside a round bar from p along unit a over length, radius r:
 * heights *lo..*hi. false: it misses. */
bool vugi_line_in_bar(double x, double y, const double p[3], const double a[3], double length,
    double r, double *lo, double *hi);

/* Cuts the stretch *lo..*hi of the vertical line through (x, y) to what lies behind the plane through p,
 * on the side that n does not point to. false: nothing is left. */
bool vugi_line_behind(double x, double y, const double p[3], const double n[3], double *lo,
    double *hi);

#endif
