/* SPDX-License-Identifier: MIT
 * Visible light through a clear or tinted wall. */
#include "flow/numbers.h"

#include <math.h>

typedef struct wall {
    double attenuation, faces;
} wall;

static double share_at(const void *user, double thickness_mm)
{
    const wall *w = user;
    return w->faces * exp(-w->attenuation * thickness_mm);
}

static vug_status make(vug_context *ctx, const char *call, double attenuation_per_mm,
    double refractive_index, wall *w)
{
    const vugi_limit limits[] = {
        {"attenuation_per_mm", attenuation_per_mm, 0.0, 1e6},
        {"refractive_index", refractive_index, 1.0, 10.0},
    };
    vug_status status = vugi_check(ctx, call, limits, 2);
    if (status)
        return status;
    double r = (refractive_index - 1.0) / (refractive_index + 1.0); /* Fresnel, straight through */
    *w = (wall){attenuation_per_mm, (1.0 - r * r) * (1.0 - r * r)};
    return VUG_OK;
}

static const vugi_limit thickness_limit = {"thickness_mm", 0.0, 0.0, 1e6};

vug_status vug_wall_transmission(vug_context *ctx, double attenuation_per_mm,
    double refractive_index, const double *thickness_mm, size_t count, double *share)
{
    wall w;
    vug_status status = make(ctx, __func__, attenuation_per_mm, refractive_index, &w);
    return status
        ? status
        : vugi_each(ctx, __func__, thickness_limit, thickness_mm, count, share_at, &w, share);
}
