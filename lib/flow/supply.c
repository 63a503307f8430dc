/* SPDX-License-Identifier: MIT
 * Syringe loads, paint and cost for a volume. */
#include "flow/needle.h"
#include "flow/numbers.h"

#include <math.h>

/* Rounded up, but not for the last bit of a division. */
static int64_t loads_of(double volume_ml, double load_ml)
{
    return (int64_t)ceil(volume_ml / load_ml * (1.0 - 1e-12));
}

vug_status vug_supply_for(vug_context *ctx, double volume_mm3, double syringe_ml,
    double loss_fraction, double price_per_l, vug_supply *supply)
{
    const vugi_limit limits[] = {
        {"volume_mm3", volume_mm3, 0.0, 1e15},
        {"syringe_ml", syringe_ml, 0.1, 1000.0},
        {"loss_fraction", loss_fraction, 0.0, 10.0},
        {"price_per_l", price_per_l, 0.0, 1e9},
    };
    vug_status status = vugi_check(ctx, __func__, limits, sizeof limits / sizeof limits[0]);
    if (status)
        return status;
    double volume_ml = volume_mm3 / 1000.0;
    double share = vugi_syringe_tolerance(syringe_ml, syringe_ml) / syringe_ml;
    vug_supply own = {.struct_size = sizeof own};
    own.loads = loads_of(volume_ml, syringe_ml);
    own.loads_low = loads_of(volume_ml, syringe_ml * (1.0 + share));
    own.loads_high = loads_of(volume_ml, syringe_ml * (1.0 - share));
    own.within_range = own.loads_low == own.loads_high;
    own.last_load_ml = own.loads ? volume_ml - (double)(own.loads - 1) * syringe_ml : 0.0;
    own.load_tolerance_ml = share * syringe_ml;
    own.paint_ml = volume_ml * (1.0 + loss_fraction)
        + (own.loads ? vugi_syringe_dead_space(syringe_ml) : 0.0);
    own.cost = own.paint_ml / 1000.0 * price_per_l;
    return vugi_struct_write(ctx, supply, &own, sizeof own, "vug_supply");
}
