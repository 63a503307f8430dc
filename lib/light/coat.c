/* SPDX-License-Identifier: MIT
 * A coat on the inside instead of a filling. */
#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/numbers.h"
#include "flow/viscosity.h"

#include <math.h>

vug_status vug_coat_plan(vug_context *ctx, double area_mm2, double volume_mm3, double dry_film_mm,
    double solids_fraction, double wet_coat_mm, vug_coat *coat)
{
    const vugi_limit limits[] = {
        {"area_mm2", area_mm2, 1e-6, 1e12},
        {"volume_mm3", volume_mm3, 1e-6, 1e12},
        {"dry_film_mm", dry_film_mm, 1e-6, 1e3},
        {"solids_fraction", solids_fraction, 1e-3, 1.0},
        {"wet_coat_mm", wet_coat_mm, 1e-6, 1e3},
    };
    vug_status status = vugi_check(ctx, __func__, limits, 5);
    if (status)
        return status;
    vug_coat own = {.struct_size = sizeof own};
    own.wet_mm = dry_film_mm / solids_fraction;
    double coats = ceil(own.wet_mm / wet_coat_mm * (1.0 - 1e-12));
    if (coats > 1e6)
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: %g mm of wet paint in coats of %g mm would be %g "
            "coats; fill the cavity or use a thicker paint",
            __func__, own.wet_mm, wet_coat_mm, coats);
    own.coats = (int32_t)coats;
    own.coat_paint_mm3 = area_mm2 * own.wet_mm;
    own.fill_paint_mm3 = volume_mm3;
    own.saved_mm3 = own.fill_paint_mm3 - own.coat_paint_mm3;
    return vugi_struct_write(ctx, coat, &own, sizeof own, "vug_coat");
}

vug_status vug_film_hang(vug_context *ctx, const vug_fluid *fluid, double slope_deg,
    double height_mm, double after_s, double *film_mm)
{
    vug_fluid own;
    vug_status status = vugi_fluid_read(ctx, __func__, fluid, &own);
    const vugi_limit limits[] = {
        {"slope_deg", slope_deg, 0.01, 90.0},
        {"height_mm", height_mm, 1e-6, 1e6},
        {"after_s", after_s, 1e-6, 1e12},
    };
    if (!status)
        status = vugi_check(ctx, __func__, limits, 3);
    if (!status)
        status = vugi_check_result(ctx, __func__, "film_mm", film_mm);
    if (status)
        return status;
    double pull = own.density_kg_m3 * VUGI_G * sin(slope_deg * VUGI_PI / 180.0);
    double held = vugi_fluid_yield(&own) / pull;
    double left = 0.0;
    if (vugi_fluid_is_newtonian(&own))
        left = sqrt(vugi_fluid_viscosity(&own, 0.0) * height_mm * VUGI_MM / (pull * after_s));
    return vugi_give(ctx, __func__, fmax(held, left) / VUGI_MM, film_mm);
}
