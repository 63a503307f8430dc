/* SPDX-License-Identifier: MIT
 * One root finder for every inverse. All our functions are close to straight lines in
 * logarithms, so the regula falsi with Illinois' correction (Dowell and Jarratt 1971) needs few
 * steps. */
#include "flow/root.h"

#include <math.h>

enum { STEPS = 200 };
static const double ln_limit = 690.0; /* x within 1e-300 .. 1e300 */

typedef struct bracket {
    double lo, f_lo, hi, f_hi;
} bracket;

/* Widens from guess until f changes sign between lo and hi. */
static bool enclose(double (*f)(const void *, double), const void *user, double guess, bracket *b)
{
    double step = 0.5;
    b->lo = b->hi = fmin(fmax(guess, -ln_limit), ln_limit);
    b->f_lo = b->f_hi = f(user, b->lo);
    if (isnan(b->f_lo))
        return false;
    while (b->f_hi < 0.0 && b->hi < ln_limit) {
        b->lo = b->hi;
        b->f_lo = b->f_hi;
        b->hi = fmin(b->hi + step, ln_limit);
        b->f_hi = f(user, b->hi);
        step *= 2.0;
    }
    while (b->f_lo > 0.0 && b->lo > -ln_limit) {
        b->hi = b->lo;
        b->f_hi = b->f_lo;
        b->lo = fmax(b->lo - step, -ln_limit);
        b->f_lo = f(user, b->lo);
        step *= 2.0;
    }
    return b->f_lo <= 0.0 && b->f_hi >= 0.0;
}

double vugi_root(double (*f)(const void *user, double ln_x), const void *user, double guess)
{
    bracket b;
    if (!enclose(f, user, guess, &b))
        return NAN;
    if (b.f_lo == 0.0)
        return b.lo;
    double x = b.hi;
    int side = 0;
    for (int i = 0; i < STEPS && b.hi - b.lo > 1e-15 * (1.0 + fabs(b.lo)); i++) {
        double last = x;
        x = (b.lo * b.f_hi - b.hi * b.f_lo) / (b.f_hi - b.f_lo);
        if (!(x > b.lo && x < b.hi) || i % 16 == 15)
            x = 0.5 * (b.lo + b.hi);
        double y = f(user, x);
        if (y == 0.0 || fabs(x - last) < 1e-15 * (1.0 + fabs(x)))
            break;
        if (y < 0.0) {
            b.lo = x;
            b.f_lo = y;
            b.f_hi *= side < 0 ? 0.5 : 1.0;
            side = -1;
        } else {
            b.hi = x;
            b.f_hi = y;
            b.f_lo *= side > 0 ? 0.5 : 1.0;
            side = 1;
        }
    }
    return x;
}
