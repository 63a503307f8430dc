/* SPDX-License-Identifier: MIT
 * Floor 0: where a function of one number passes zero, and where an answer turns from yes to no. */
#ifndef VUGI_ROOT_H
#define VUGI_ROOT_H

#include <stdbool.h>

/* ln x where f(user, ln x) = 0 for a rising f, started from guess (in ln x). Bracketed, so it ends.
 * For functions that are nearly straight in ln x far from their root, as the sums of this library are:
 * one that bends like an exponential there has to be started near. NaN if f does not change sign for x
 * in 1e-300..1e300. */
double vugi_root(double (*f)(const void *user, double ln_x), const void *user, double guess);

/* ---- false position, step by step, for searches with an end of their own ----------------- */

/* A root between two places, with the values there; side is 0 at first. */
typedef struct vugi_bracket {
    double lo, at_lo, hi, at_hi;
    int side; /* that moved last: -1 lo, 1 hi */
} vugi_bracket;

/* Where the straight line between both ends passes zero. */
double vugi_bracket_guess(const vugi_bracket *b);

/* Moves one end to x, where the value is y. An end that stays twice counts half (Illinois). */
void vugi_bracket_move(vugi_bracket *b, bool low, double x, double y);

/* ---- halving ------------------------------------------------------------------------------ */

/* Is x still on the side of lo? */
typedef bool (*vugi_low)(void *user, double x);

/* Halves lo .. hi until it is no wider than `relative` of hi, or has no number in between, or so
 * many times. At *lo the answer is yes and at *hi no, if it was so at first: those are not asked. */
void vugi_halve(vugi_low low, void *user, double *lo, double *hi, int times, double relative);

#endif
