/* SPDX-License-Identifier: MIT
 * Floor 0: points and directions, double[3]. Sums run from x to z, so that every caller gets the
 * same digits. What is written may not overlap what is read, unless said. */
#ifndef VUGI_VEC_H
#define VUGI_VEC_H

#include <math.h>

static inline double vugi_dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static inline void vugi_cross(const double a[3], const double b[3], double out[3])
{
    out[0] = a[1] * b[2] - a[2] * b[1];
    out[1] = a[2] * b[0] - a[0] * b[2];
    out[2] = a[0] * b[1] - a[1] * b[0];
}

/* out may be a or b. */
static inline void vugi_subtract(const double a[3], const double b[3], double out[3])
{
    for (int k = 0; k < 3; k++)
        out[k] = a[k] - b[k];
}

/* The point so far from `from` in a direction; out may be either. */
static inline void vugi_along(const double from[3], const double direction[3], double length,
    double out[3])
{
    for (int k = 0; k < 3; k++)
        out[k] = from[k] + length * direction[k];
}

/* The lesser and the greater of two numbers: fmin() and fmax() are calls, too slow for each triangle. */
static inline double vugi_lesser(double a, double b)
{
    return a < b ? a : b;
}

static inline double vugi_greater(double a, double b)
{
    return a > b ? a : b;
}

static inline double vugi_length(const double a[3])
{
    return sqrt(vugi_dot(a, a));
}

static inline double vugi_square_distance(const double a[3], const double b[3])
{
    double d[3];
    vugi_subtract(a, b, d);
    return vugi_dot(d, d);
}

static inline double vugi_point_distance(const double a[3], const double b[3])
{
    return sqrt(vugi_square_distance(a, b));
}

/* Makes a unit vector of a and returns its length; what has none becomes 0. */
static inline double vugi_normalise(double a[3])
{
    double length = vugi_length(a);
    for (int k = 0; k < 3; k++)
        a[k] = length > 0.0 ? a[k] / length : 0.0;
    return length;
}

/* Normal of a triangle by the right hand, twice its area long. */
static inline void vugi_triangle_cross(const double a[3], const double b[3], const double c[3],
    double out[3])
{
    double u[3], v[3];
    vugi_subtract(b, a, u);
    vugi_subtract(c, a, v);
    vugi_cross(u, v, out);
}

#endif
