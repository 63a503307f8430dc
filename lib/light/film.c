/* SPDX-License-Identifier: MIT
 * Paint films after Kubelka and Munk 1931, written so that neither no absorption nor no scattering
 * nor a thick film divides by zero or overflows: with A = K + S, B = sqrt(K (K + 2 S)),
 * e = exp(-2 B x) and q = (1 - e)/B,
 *   R = (S q - Rg (A q - 1 - e)) / ((A - Rg S) q + 1 + e),   T = 2 sqrt(e) / (A q + 1 + e).
 * With A A - B B = S S, the bracket of Rg is c q - 2 e, c = S S / (A + B), without cancellation. */
#include "light/film.h"

#include "base/root.h"
#include "flow/numbers.h"

#include <math.h>

typedef struct parts {
    double a, c, e, q;
} parts;

static parts parts_of(double absorption, double scattering, double x)
{
    double b = sqrt(absorption * (absorption + 2.0 * scattering));
    double y = 2.0 * b * x;
    double a = absorption + scattering;
    return (parts){a, a > 0.0 ? scattering * scattering / (a + b) : 0.0, exp(-y),
        y > 0.0 ? -2.0 * x * expm1(-y) / y : 2.0 * x};
}

double vugi_film_reflectance(double absorption, double scattering, double x, double background)
{
    parts p = parts_of(absorption, scattering, x);
    double s = scattering;
    return (s * p.q - background * (p.c * p.q - 2.0 * p.e))
        / ((p.a - background * s) * p.q + 1.0 + p.e);
}

double vugi_film_transmittance(double absorption, double scattering, double x)
{
    parts p = parts_of(absorption, scattering, x);
    return 2.0 * sqrt(p.e) / (p.a * p.q + 1.0 + p.e);
}

/* ---- the public calls ----------------------------------------------------------- */

typedef struct film {
    double absorption, scattering, background, wanted;
} film;

static const vugi_limit thickness_limit = {"thickness_mm", 0.0, 0.0, 1e6};

static vug_status check_film(vug_context *ctx, const char *call, const film *f,
    double least_scattering)
{
    const vugi_limit limits[] = {
        {"absorption_per_mm", f->absorption, 0.0, 1e6},
        {"scattering_per_mm", f->scattering, least_scattering, 1e6},
    };
    return vugi_check(ctx, call, limits, 2);
}

static double contrast_at(const void *user, double x)
{
    const film *f = user;
    double over_black = vugi_film_reflectance(f->absorption, f->scattering, x, 0.0);
    return over_black / vugi_film_reflectance(f->absorption, f->scattering, x, 0.8);
}

static double reflectance_at(const void *user, double x)
{
    const film *f = user;
    return vugi_film_reflectance(f->absorption, f->scattering, x, f->background);
}

static double transmittance_at(const void *user, double x)
{
    const film *f = user;
    return vugi_film_transmittance(f->absorption, f->scattering, x);
}

vug_status vug_film_reflectance(vug_context *ctx, double absorption_per_mm,
    double scattering_per_mm, double background, const double *thickness_mm, size_t count,
    double *reflectance)
{
    const film f = {absorption_per_mm, scattering_per_mm, background, 0.0};
    const vugi_limit limit = {"background", background, 0.0, 1.0};
    vug_status status = check_film(ctx, __func__, &f, 0.0);
    if (!status)
        status = vugi_check(ctx, __func__, &limit, 1);
    return status ? status
                  : vugi_each(ctx, __func__, thickness_limit, thickness_mm, count, reflectance_at,
                      &f, reflectance);
}

vug_status vug_film_transmittance(vug_context *ctx, double absorption_per_mm,
    double scattering_per_mm, const double *thickness_mm, size_t count, double *transmittance)
{
    const film f = {absorption_per_mm, scattering_per_mm, 0.0, 0.0};
    vug_status status = check_film(ctx, __func__, &f, 0.0);
    return status ? status
                  : vugi_each(ctx, __func__, thickness_limit, thickness_mm, count, transmittance_at,
                      &f, transmittance);
}

vug_status vug_film_contrast(vug_context *ctx, double absorption_per_mm, double scattering_per_mm,
    const double *thickness_mm, size_t count, double *contrast_ratio)
{
    const film f = {absorption_per_mm, scattering_per_mm, 0.0, 0.0};
    vug_status status = check_film(ctx, __func__, &f, 1e-9);
    return status ? status
                  : vugi_each(ctx, __func__, thickness_limit, thickness_mm, count, contrast_at, &f,
                      contrast_ratio);
}

static double contrast_above(const void *user, double ln_x)
{
    return contrast_at(user, exp(ln_x)) - ((const film *)user)->wanted;
}

static double transmittance_below(const void *user, double ln_x)
{
    return log(((const film *)user)->wanted) - log(fmax(transmittance_at(user, exp(ln_x)), 1e-300));
}

vug_status vug_film_hiding(vug_context *ctx, double absorption_per_mm, double scattering_per_mm,
    double contrast_ratio, double *thickness_mm)
{
    const film f = {absorption_per_mm, scattering_per_mm, 0.0, contrast_ratio};
    const vugi_limit limit = {"contrast_ratio", contrast_ratio, 1e-3, 0.99999};
    vug_status status = check_film(ctx, __func__, &f, 1e-9);
    if (!status)
        status = vugi_check(ctx, __func__, &limit, 1);
    if (!status)
        status = vugi_check_result(ctx, __func__, "thickness_mm", thickness_mm);
    return status ? status
                  : vugi_give(ctx, __func__,
                      exp(vugi_root(contrast_above, &f, -log(scattering_per_mm))), thickness_mm);
}

vug_status vug_film_blocking(vug_context *ctx, double absorption_per_mm, double scattering_per_mm,
    double transmittance, double *thickness_mm)
{
    const film f = {absorption_per_mm, scattering_per_mm, 0.0, transmittance};
    const vugi_limit limits[] = {
        {"transmittance", transmittance, 1e-12, 0.999999},
        {"absorption_per_mm + scattering_per_mm", absorption_per_mm + scattering_per_mm, 1e-9, 2e6},
    };
    vug_status status = check_film(ctx, __func__, &f, 0.0);
    if (!status)
        status = vugi_check(ctx, __func__, limits, 2);
    if (!status)
        status = vugi_check_result(ctx, __func__, "thickness_mm", thickness_mm);
    return status
        ? status
        : vugi_give(ctx, __func__,
            exp(vugi_root(transmittance_below, &f, -log(absorption_per_mm + scattering_per_mm))),
            thickness_mm);
}
