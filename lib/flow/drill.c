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

static vug_status check(vug_context *ctx, const char *call, int32_t series, double diameter_mm,
    const double *drill_mm)
{
    if (series < 0 || series >= VUG_DRILLS_COUNT)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: series %d is not one of 0 .. %d", call,
            (int)series, VUG_DRILLS_COUNT - 1);
    const vugi_limit limit = {"diameter_mm", diameter_mm, 0.0, 1e6};
    vug_status status = vugi_check(ctx, call, &limit, 1);
    return status ? status : vugi_check_result(ctx, call, "drill_mm", drill_mm);
}

static vug_status not_found(vug_context *ctx, const char *call, int32_t series, double diameter_mm)
{
    return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
        "%s: no drill for %g mm; this series runs from %g to "
        "%g mm",
        call, diameter_mm, 0.01 * range[series].first, 0.01 * range[series].last);
}

vug_status vug_drill_at_or_above(vug_context *ctx, int32_t series, double diameter_mm,
    double *drill_mm)
{
    vug_status status = check(ctx, __func__, series, diameter_mm, drill_mm);
    if (status)
        return status;
    double wanted = ceil(fmin(diameter_mm, 1e5) * 100.0 - 1e-6);
    int size = (int)fmax(wanted, range[series].first);
    while (size <= range[series].last && !in_series(series, size))
        size++;
    if (size > range[series].last)
        return not_found(ctx, __func__, series, diameter_mm);
    *drill_mm = size / 100.0;
    return VUG_OK;
}

vug_status vug_drill_at_or_below(vug_context *ctx, int32_t series, double diameter_mm,
    double *drill_mm)
{
    vug_status status = check(ctx, __func__, series, diameter_mm, drill_mm);
    if (status)
        return status;
    double wanted = floor(fmin(diameter_mm, 1e5) * 100.0 + 1e-6);
    int size = (int)fmin(wanted, range[series].last);
    while (size >= range[series].first && !in_series(series, size))
        size--;
    if (size < range[series].first)
        return not_found(ctx, __func__, series, diameter_mm);
    *drill_mm = size / 100.0;
    return VUG_OK;
}
