/* SPDX-License-Identifier: MIT
 * How far apart columns stand, by one rule for all calls. */
#include "cavity/spacing.h"

#include <math.h>

/* Fewer columns along the longest side of a cavity don't tell its shape. */
static const double LEAST_ACROSS = 40.0;

vugi_spread vugi_cavities_spread(const vug_cavities *c, size_t first, size_t count)
{
    double longest = 0.0, second = 0.0;
    for (int k = 0; k < 3; k++) {
        double lo = INFINITY, hi = -INFINITY;
        for (size_t i = first; i < first + count; i++) {
            lo = fmin(lo, c->cavity[i].mesh->lo[k]);
            hi = fmax(hi, c->cavity[i].mesh->hi[k]);
        }
        second = fmax(second, fmin(hi - lo, longest));
        longest = fmax(longest, hi - lo);
    }
    return (vugi_spread){longest, sqrt(longest * second)};
}

double vugi_spacing_within(const vug_cavities *c, size_t cavity, double spacing_mm)
{
    return fmin(spacing_mm, vugi_cavities_spread(c, cavity, 1).longest / LEAST_ACROSS);
}

vug_status vugi_read_spacing(vug_context *ctx, const vug_cavities *c, size_t first, size_t count,
    uint32_t columns_across, uint32_t usual, double spacing_mm, double *spacing)
{
    const vugi_spread spread = vugi_cavities_spread(c, first, count);
    const uint32_t across = columns_across ? columns_across : usual;
    if (across < 8 || across > VUG_MAX_COLUMNS_ACROSS / 2)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "columns_across is %u, it must be 8 to %d",
            (unsigned)across, VUG_MAX_COLUMNS_ACROSS / 2);
    if (!(spacing_mm >= 0.0) || !isfinite(spacing_mm))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "spacing_mm is %g, it must be 0 or more",
            spacing_mm);
    *spacing = spacing_mm > 0.0 ? fmin(spacing_mm, spread.longest / LEAST_ACROSS)
                                : spread.square / across;
    return VUG_OK;
}
