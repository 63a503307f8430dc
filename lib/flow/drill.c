/* SPDX-License-Identifier: MIT
 * Drills at hand, in hundredths of a millimetre so that sizes compare exactly. */
#include "flow/numbers.h"

#include <math.h>

static const struct {
    int first, last;
} range[VUG_DRILLS_COUNT] = {
    [VUG_DRILLS_STOCK] = {20, 2500},
    [VUG_DRILLS_TENTHS] = {100, 1000},
    [VUG_DRILLS_HALVES] = {100, 1300},
};

/* Stock: the sizes of ISO 235 that the trade keeps. */
static bool in_stock(int size)
{
    int last = size % 10;
    if (size < 100)
        return last == 0 || last == 2 || last == 5 || last == 8;
    if (size < 300)
        return size % 5 == 0;
    if (size < 1400)
        return last == 0;
    return size % 25 == 0;
}

static bool in_series(int32_t series, int size)
{
    if (series == VUG_DRILLS_TENTHS)
        return size % 10 == 0;
    if (series == VUG_DRILLS_HALVES)
        return size % 50 == 0;
    return in_stock(size);
}

/* The size of the series next to wanted, going by step; outside of the range if there is none. */
static int next_in_series(int32_t series, int wanted, int step)
{
    int size = wanted;
    while (size >= range[series].first && size <= range[series].last && !in_series(series, size))
        size += step;
    return size;
}

static int neighbour(int32_t series, int32_t side, double diameter_mm)
{
    double hundredths = fmin(diameter_mm, 1e5) * 100.0;
    if (side == VUG_AT_OR_ABOVE)
        return next_in_series(series, (int)fmax(ceil(hundredths - 1e-6), range[series].first), 1);
    return next_in_series(series, (int)fmin(floor(hundredths + 1e-6), range[series].last), -1);
}

vug_status vug_drill_next(vug_context *ctx, int32_t series, int32_t side, double diameter_mm,
    double *drill_mm)
{
    if (series < 0 || series >= VUG_DRILLS_COUNT)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: series %d is not one of 0 .. %d", __func__,
            (int)series, VUG_DRILLS_COUNT - 1);
    if (side != VUG_AT_OR_ABOVE && side != VUG_AT_OR_BELOW)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: side %d is not one of 0 .. 1", __func__,
            (int)side);
    const vugi_limit limit = {"diameter_mm", diameter_mm, 0.0, 1e6};
    vug_status status = vugi_check(ctx, __func__, &limit, 1);
    if (!status)
        status = vugi_check_result(ctx, __func__, "drill_mm", drill_mm);
    if (status)
        return status;
    int size = neighbour(series, side, diameter_mm);
    if (size < range[series].first || size > range[series].last)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
            "%s: no drill for %g mm; this series runs from %g to %g mm", __func__, diameter_mm,
            0.01 * range[series].first, 0.01 * range[series].last);
    *drill_mm = size / 100.0;
    return VUG_OK;
}
