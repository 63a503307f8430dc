/* SPDX-License-Identifier: MIT
 * One root finder for every inverse. Nearly all our functions are close to straight lines in
 * logarithms, so the regula falsi with Illinois' correction (Dowell and Jarratt 1971) needs few
 * steps. */
#include "base/root.h"

#include <assert.h>
#include <math.h>

enum { STEPS = 200 };
static const double ln_limit = 690.0; /* x within 1e-300 .. 1e300 */

/* Widens from guess until f changes sign between lo and hi. */
static bool enclose(double (*f)(const void *, double), const void *user, double guess,
    vugi_bracket *b)
{
    double step = 0.5;
    b->lo = b->hi = fmin(fmax(guess, -ln_limit), ln_limit);
    b->at_lo = b->at_hi = f(user, b->lo);
    if (isnan(b->at_lo))
        return false;
    while (b->at_hi < 0.0 && b->hi < ln_limit) {
        b->lo = b->hi;
        b->at_lo = b->at_hi;
        b->hi = fmin(b->hi + step, ln_limit);
        b->at_hi = f(user, b->hi);
        step *= 2.0;
    }
    while (b->at_lo > 0.0 && b->lo > -ln_limit) {
        b->hi = b->lo;
        b->at_hi = b->at_lo;
        b->lo = fmax(b->lo - step, -ln_limit);
        b->at_lo = f(user, b->lo);
        step *= 2.0;
    }
    return b->at_lo <= 0.0 && b->at_hi >= 0.0;
}

double vugi_bracket_guess(const vugi_bracket *b)
{
    assert(b->lo <= b->hi && b->at_lo != b->at_hi);
    return (b->lo * b->at_hi - b->hi * b->at_lo) / (b->at_hi - b->at_lo);
}

void vugi_bracket_move(vugi_bracket *b, bool low, double x, double y)
{
    assert(x >= b->lo && x <= b->hi);
    if (low) {
        b->lo = x;
        b->at_lo = y;
        b->at_hi *= b->side < 0 ? 0.5 : 1.0;
        b->side = -1;
    } else {
        b->hi = x;
        b->at_hi = y;
        b->at_lo *= b->side > 0 ? 0.5 : 1.0;
        b->side = 1;
    }
}

double vugi_root(double (*f)(const void *user, double ln_x), const void *user, double guess)
{
    vugi_bracket b = {.side = 0};
    if (!enclose(f, user, guess, &b))
        return NAN;
    if (b.at_lo == 0.0)
        return b.lo;
    double x = b.hi;
    for (int i = 0; i < STEPS && b.hi - b.lo > 1e-15 * (1.0 + fabs(b.lo)); i++) {
        double last = x;
        x = vugi_bracket_guess(&b);
        if (!(x > b.lo && x < b.hi) || i % 16 == 15)
            x = 0.5 * (b.lo + b.hi);
        double y = f(user, x);
        if (y == 0.0 || fabs(x - last) < 1e-15 * (1.0 + fabs(x)))
            break;
        vugi_bracket_move(&b, y < 0.0, x, y);
    }
    return x;
}

void vugi_halve(vugi_low low, void *user, double *lo, double *hi, int times, double relative)
{
    for (int i = 0; i<times && * hi - *lo> relative * fabs(*hi); i++) {
        double middle = 0.5 * (*lo + *hi);
        double *end = low(user, middle) ? lo : hi;
        if (middle == *end)
            break; /* and so it would stay */
        *end = middle;
    }
}
