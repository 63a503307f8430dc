/* SPDX-License-Identifier: MIT
 * How thick a translucent skin over a dark core may be before its relief is lost. */
#include "base/root.h"
#include "light/film.h"

#include "flow/flow.h"
#include "flow/numbers.h"

#include <math.h>

static const vug_relief defaults = {
    .struct_size = sizeof(vug_relief),
    .height_mm = 0.5,
    .width_mm = 2.0,
    .absorption_per_mm = 0.02,
    .scattering_per_mm = 0.5,
    .core_reflectance = 0.05,
    .threshold = 0.02,
};

vug_status vug_relief_init(vug_relief *relief, size_t size)
{
    return vugi_struct_init(relief, size, &defaults, sizeof defaults);
}

static vug_status read(vug_context *ctx, const char *call, const vug_relief *relief,
    vug_relief *own)
{
    *own = defaults;
    vug_status status = vugi_struct_read(ctx, own, sizeof *own, relief, "vug_relief");
    if (status)
        return status;
    const vugi_limit limits[] = {
        {"height_mm", own->height_mm, 1e-4, 100.0},
        {"width_mm", own->width_mm, 1e-3, 1e3},
        {"absorption_per_mm", own->absorption_per_mm, 0.0, 1e4},
        {"scattering_per_mm", own->scattering_per_mm, 0.0, 1e4},
        {"core_reflectance", own->core_reflectance, 0.0, 1.0},
        {"threshold", own->threshold, 1e-6, 1.0},
    };
    return vugi_check(ctx, call, limits, sizeof limits / sizeof limits[0]);
}

/* What scattering leaves of a wave seen through a layer: a source varying as cos(q y) at one face
 * arrives at the other as q t / sinh(q t) of an even one (diffusion equation, no loss). */
static double blur(double width_mm, double skin_mm)
{
    double qt = 2.0 * VUGI_PI / width_mm * skin_mm;
    if (qt < 1e-4)
        return 1.0;
    return qt < 700.0 ? qt / sinh(qt) : 0.0;
}

static double contrast_at(const void *user, double skin_mm)
{
    const vug_relief *r = user;
    double half = 0.5 * r->height_mm;
    double crest = vugi_film_reflectance(r->absorption_per_mm, r->scattering_per_mm, skin_mm + half,
        r->core_reflectance);
    double hollow = vugi_film_reflectance(r->absorption_per_mm, r->scattering_per_mm,
        fmax(skin_mm - half, 0.0), r->core_reflectance);
    if (crest + hollow <= 0.0)
        return 0.0; /* black on black */
    return fabs(crest - hollow) / (crest + hollow) * blur(r->width_mm, skin_mm);
}

vug_status vug_relief_contrast(vug_context *ctx, const vug_relief *relief, const double *skin_mm,
    size_t count, double *contrast)
{
    vug_relief own;
    vug_status status = read(ctx, __func__, relief, &own);
    if (status)
        return status;
    const vugi_limit limit = {"skin_mm", 0.0, 0.5 * own.height_mm, 1e4};
    return vugi_each(ctx, __func__, limit, skin_mm, count, contrast_at, &own, contrast);
}

static bool shows(void *user, double skin_mm)
{
    const vug_relief *relief = user;
    return contrast_at(relief, skin_mm) >= relief->threshold;
}

vug_status vug_relief_skin(vug_context *ctx, const vug_relief *relief, double *skin_mm)
{
    vug_relief own;
    vug_status status = read(ctx, __func__, relief, &own);
    if (!status)
        status = vugi_check_result(ctx, __func__, "skin_mm", skin_mm);
    if (status)
        return status;
    double lo = 0.5 * own.height_mm, hi = lo;
    if (contrast_at(&own, lo) < own.threshold)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
            "%s: a relief %g mm high and %g mm wide has a contrast "
            "of %g on the thinnest skin, below %g; make it higher or wider, the core darker or the "
            "skin more cloudy",
            __func__, own.height_mm, own.width_mm, contrast_at(&own, lo), own.threshold);
    while (contrast_at(&own, hi) >= own.threshold) {
        lo = hi;
        hi *= 1.02;
    }
    vugi_halve(shows, &own, &lo, &hi, 60, 0.0);
    return vugi_give(ctx, __func__, lo, skin_mm);
}
