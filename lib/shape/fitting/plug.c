/* SPDX-License-Identifier: MIT
 * A plug for a bore. */
#include "shape/fitting/lathe.h"

#include "shape/bore/row.h"

#include "base/angle.h"
#include "base/vec.h"

#include <math.h>

static const vug_plug_options defaults = {.struct_size = sizeof defaults,
    .clearance_mm = 0.1,
    .head_mm = 1.0,
    .rim_mm = 1.0,
    .error_mm = 0.01};

vug_status vug_plug_options_init(vug_plug_options *options, size_t size)
{
    return vugi_struct_init(options, size, &defaults, sizeof defaults);
}

static vug_status check_options(vug_context *ctx, const vug_plug_options *o)
{
    vug_status status = vugi_check_number(ctx, "clearance_mm", o->clearance_mm, 0.0, 5.0);
    if (!status)
        status = vugi_check_number(ctx, "length_mm", o->length_mm, 0.0, 1e6);
    if (!status)
        status = vugi_check_number(ctx, "head_mm", o->head_mm, 0.0, 1e3);
    if (!status)
        status = vugi_check_number(ctx, "rim_mm", o->rim_mm, 0.0, 1e3);
    if (!status)
        status = vugi_check_number(ctx, "error_mm", o->error_mm, 1e-6, 1e3);
    return status;
}

static double length_of(const double *bore, const vug_plug_options *o)
{
    double depth = bore[VUGI_BORE_DEPTH];
    if (o->length_mm > 0.0)
        return o->length_mm;
    return depth > o->clearance_mm && isfinite(depth) ? depth - o->clearance_mm : 3.0;
}

/* Rings of the plug, from its head on; how many, or 0 if nothing is left of it. The clearance is square to each
 * surface. */
static size_t profile(const double *bore, const vug_plug_options *o, double rings[2 * 5])
{
    double length = length_of(bore, o), half = 0.5 * bore[VUGI_BORE_TAPER] * VUGI_DEGREE;
    double shank = 0.5 * bore[VUGI_BORE_DIAMETER] - o->clearance_mm / cos(half);
    double end = shank - length * tan(half), top = shank, meets = 0.0;
    double wide = fmax(bore[VUGI_BORE_DIAMETER], bore[VUGI_BORE_SINK]);
    size_t count = 0;
    if (bore[VUGI_BORE_SINK] > 0.0) {
        double angle = 0.5 * vugi_bore_sink_angle(bore) * VUGI_DEGREE;
        top = 0.5 * bore[VUGI_BORE_SINK] - o->clearance_mm / cos(angle);
        meets = (top - shank) / (tan(angle) - tan(half));
        if (!(meets > 0.0 && meets < length))
            return 0;
    }
    if (!(end > 0.0) || !(top > 0.0))
        return 0;
    if (o->head_mm > 0.0)
        for (int i = 0; i < 2; i++) {
            rings[2 * count] = 0.5 * wide + o->rim_mm;
            rings[2 * count++ + 1] = i == 0 ? -o->head_mm : 0.0;
        }
    rings[2 * count] = top;
    rings[2 * count++ + 1] = 0.0;
    if (meets > 0.0) {
        rings[2 * count] = shank - meets * tan(half);
        rings[2 * count++ + 1] = meets;
    }
    rings[2 * count] = end;
    rings[2 * count++ + 1] = length;
    return count;
}

vug_status vug_shape_plug(vug_context *ctx, const double *bore, const vug_plug_options *options,
    vug_mesh **out)
{
    if (!ctx || !bore || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx        ? "ctx"
                : !bore ? "bore"
                        : "out");
    vug_plug_options own = defaults;
    vug_status status = vugi_struct_read(ctx, &own, sizeof own, options, "vug_plug_options");
    if (!status)
        status = check_options(ctx, &own);
    if (!status)
        status = vugi_bore_check(ctx, bore, 0);
    if (status)
        return status;
    double rings[2 * 5];
    size_t count = profile(bore, &own, rings);
    if (count == 0)
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "with a clearance of %g mm nothing is left of a plug %g mm long for a hole of %g mm; "
            "make it "
            "shorter, or the clearance less",
            own.clearance_mm, length_of(bore, &own), bore[VUGI_BORE_DIAMETER]);
    vugi_tool frame;
    vugi_bore_frame(bore, &frame);
    uint32_t sides = vugi_tool_sides(2.0 * fmax(rings[0], rings[2 * count - 2]), own.error_mm);
    return vugi_lathe(ctx, &frame, rings, count, sides, out);
}
