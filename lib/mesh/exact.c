/* SPDX-License-Identifier: MIT
 * After J. R. Shewchuk, Adaptive precision floating-point arithmetic and fast robust geometric
 * predicates, Discrete & Computational Geometry 18, 1997: try in doubles, and when the error
 * bound does not settle the sign, add up the exact products. */
#include "mesh/exact.h"

#include <math.h>

static int sign(double x)
{
    return (x > 0.0) - (x < 0.0);
}

/* a + b = sum + error, exactly (Knuth). */
static double two_sum(double a, double b, double *error)
{
    double sum = a + b, shift = sum - a;
    *error = (a - (sum - shift)) + (b - shift);
    return sum;
}

/* Adds x to the count parts of a number, which do not overlap and grow in size. */
static void grow(double *part, int count, double x)
{
    for (int i = 0; i < count; i++)
        x = two_sum(x, part[i], &part[i]);
    part[count] = x;
}

/* Sign of sum of x[i] y[i]. */
static int sign_of_products(const double *x, const double *y, int count)
{
    double part[12];
    int parts = 0;
    for (int i = 0; i < count; i++) {
        double product = x[i] * y[i];
        grow(part, parts++, fma(x[i], y[i], -product));
        grow(part, parts++, product);
    }
    for (int i = parts; i-- > 0;)
        if (sign(part[i]) != 0)
            return sign(part[i]);
    return 0;
}

int vugi_turn(const double a[2], const double b[2], const double c[2])
{
    double left = (a[0] - c[0]) * (b[1] - c[1]);
    double right = (a[1] - c[1]) * (b[0] - c[0]);
    double bound = 3.3306690738754716e-16
        * (fabs(left) + fabs(right)); /* (3 + 16 u) u, u = 2^-53 */
    if (fabs(left - right) > bound)
        return sign(left - right);
    const double x[6] = {a[0], -a[1], b[0], -b[1], c[0], -c[1]};
    const double y[6] = {b[1], b[0], c[1], c[0], a[1], a[0]};
    return sign_of_products(x, y, 6);
}

int vugi_side(const double a[3], const double b[3], const double c[3], const double d[3])
{
    double u[3], v[3], w[3];
    for (int k = 0; k < 3; k++) {
        u[k] = a[k] - d[k];
        v[k] = b[k] - d[k];
        w[k] = c[k] - d[k];
    }
    double size = 0.0, sum = 0.0;
    for (int k = 0; k < 3; k++) {
        int l = (k + 1) % 3, m = (k + 2) % 3;
        double p = v[l] * w[m], q = v[m] * w[l];
        sum += u[k] * (p - q);
        size += fabs(u[k]) * (fabs(p) + fabs(q));
    }
    double bound = 7.7715611723761027e-16 * size; /* (7 + 56 u) u */
    return fabs(sum) > bound ? sign(sum) : 0;
}
