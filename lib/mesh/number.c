/* SPDX-License-Identifier: MIT */
#include "mesh/number.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>

/* Powers of ten that a double holds exactly. */
static const double tens[] = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12,
    1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
enum { EXACT_TENS = 22, MANTISSA_DIGITS = 19, EXPONENT_LIMIT = 100000 };

/* A number as the sum of two: the first is it as near as a double can, the second what is left of it. */
typedef struct pair {
    double high, low;
} pair;

/* What is left of a product or quotient is exact by fma (T. J. Dekker, A floating-point technique for extending the
 * available precision, 1971). Not by long double, which is a double on some machines. */
static pair times(pair a, double b)
{
    double high = a.high * b, low = fma(a.high, b, -high) + a.low * b;
    return (pair){high, low};
}

static pair over(pair a, double b)
{
    double high = a.high / b, low = (fma(-high, b, a.high) + a.low) / b;
    return (pair){high, low};
}

/* mantissa x 10^exponent. One operation on exact numbers is rounded once, so it is exact in the
 * common case (W. D. Clinger, How to read floating point numbers accurately, PLDI 1990). */
static double scale(uint64_t mantissa, int exponent)
{
    if (mantissa < UINT64_C(1) << 53 && exponent >= -EXACT_TENS && exponent <= EXACT_TENS) {
        double m = (double)mantissa;
        return exponent < 0 ? m / tens[-exponent] : m * tens[exponent];
    }
    if (mantissa == 0 || exponent < -400)
        return 0.0;
    if (exponent > 400)
        return INFINITY;
    double upper = (double)(mantissa >> 32) * 0x1p32, under = (double)(mantissa & UINT32_MAX);
    pair value = {upper + under, under - (upper + under - upper)};
    for (int step; exponent < 0; exponent += step) {
        step = exponent < -EXACT_TENS ? EXACT_TENS : -exponent;
        value = over(value, tens[step]);
    }
    for (int step; exponent > 0; exponent -= step) {
        step = exponent > EXACT_TENS ? EXACT_TENS : exponent;
        value = times(value, tens[step]);
    }
    return isfinite(value.high) ? value.high + value.low : INFINITY;
}

typedef struct digits {
    uint64_t mantissa;
    int count;    /* digits in mantissa, less leading zeros */
    int dropped;  /* digits before the point that found no room */
    int fraction; /* digits in mantissa after the point */
    bool any;
} digits;

static const unsigned char *read_digits(const unsigned char *at, const unsigned char *end,
    digits *d, bool after_point)
{
    for (; at < end && *at >= '0' && *at <= '9'; at++) {
        d->any = true;
        if (d->count == MANTISSA_DIGITS) {
            d->dropped += !after_point && d->dropped < EXPONENT_LIMIT;
            continue;
        }
        d->mantissa = 10 * d->mantissa + (uint64_t)(*at - '0');
        d->count += d->mantissa != 0;
        d->fraction += after_point && d->fraction < EXPONENT_LIMIT;
    }
    return at;
}

static const unsigned char *read_exponent(const unsigned char *at, const unsigned char *end,
    int *exponent)
{
    if (at == end || ((*at | 0x20) != 'e' && (*at | 0x20) != 'd'))
        return at;
    const unsigned char *start = at++;
    bool minus = at < end && *at == '-';
    at += at < end && (*at == '-' || *at == '+');
    if (at == end || *at < '0' || *at > '9')
        return start;
    int value = 0;
    for (; at < end && *at >= '0' && *at <= '9'; at++)
        if (value < EXPONENT_LIMIT)
            value = 10 * value + (*at - '0');
    *exponent = minus ? -value : value;
    return at;
}

static bool starts_like(const unsigned char *at, const unsigned char *end, const char *word)
{
    for (; *word; word++, at++)
        if (at >= end || (*at | 0x20) != (unsigned char)*word)
            return false;
    return true;
}

/* "nan", "inf", "infinity", and "1.#QNAN" or "1.#INF" as one C library writes them. */
static bool names_not_finite(const unsigned char *at, const unsigned char *end)
{
    if (starts_like(at, end, "nan") || starts_like(at, end, "inf"))
        return true;
    return end - at > 3 && at[0] == '1' && at[1] == '.' && at[2] == '#';
}

int vugi_number_read(const unsigned char *text, size_t length, double *value)
{
    const unsigned char *at = text, *end = text + length;
    digits d = {0, 0, 0, 0, false};
    int exponent = 0;
    bool minus = at < end && *at == '-';
    at += at < end && (*at == '-' || *at == '+');
    if (names_not_finite(at, end))
        return VUGI_NUMBER_NOT_FINITE;
    at = read_digits(at, end, &d, false);
    if (at < end && *at == '.')
        at = read_digits(at + 1, end, &d, true);
    if (!d.any)
        return VUGI_NUMBER_BAD;
    at = read_exponent(at, end, &exponent);
    if (at != end)
        return VUGI_NUMBER_BAD;
    double size = scale(d.mantissa, exponent + d.dropped - d.fraction);
    if (!isfinite(size))
        return VUGI_NUMBER_NOT_FINITE;
    *value = minus ? -size : size;
    return VUGI_NUMBER_OK;
}
