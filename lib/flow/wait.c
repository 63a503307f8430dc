/* SPDX-License-Identifier: MIT
 * How long air takes to pass a narrow place against the liquid. */
#include "flow/wait.h"

#include "flow/flow.h"

vug_status vugi_range_check(vug_context *ctx, const vug_fluid *low, const vug_fluid *typical,
    const vug_fluid *high)
{
    vug_interval speed = {.struct_size = sizeof speed};
    if (!low && !high)
        return VUG_OK;
    return vug_bubble_tube_range(ctx, low ? low : typical, typical, high ? high : typical, 1.0,
        &speed);
}

static double seconds(double volume_mm3, double area_mm2, double speed_mm_s)
{
    return speed_mm_s > 0.0 ? volume_mm3 / (area_mm2 * speed_mm_s) : -1.0;
}

vug_status vugi_exchange_wait(vug_context *ctx, const vug_fluid *low, const vug_fluid *typical,
    const vug_fluid *high, double diameter_mm, double volume_mm3, vug_interval *wait)
{
    vug_interval speed = {.struct_size = sizeof speed};
    vug_status status = vug_bubble_tube_range(ctx, low, typical, high, diameter_mm, &speed);
    if (status)
        return status;
    double area = VUGI_PI / 4.0 * diameter_mm * diameter_mm;
    wait->typical = seconds(volume_mm3, area, speed.typical);
    wait->low = seconds(volume_mm3, area, speed.high);
    wait->high = seconds(volume_mm3, area, speed.low);
    return VUG_OK;
}
