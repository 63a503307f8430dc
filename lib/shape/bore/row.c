/* SPDX-License-Identifier: MIT */
#include "shape/bore/row.h"

#include "base/vec.h"

#include <math.h>

vug_status vugi_check_number(vug_context *ctx, const char *name, double x, double least,
    double most)
{
    if (x >= least && x <= most)
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_DOMAIN, "%s is %g; it goes from %g to %g", name, x, least, most);
}

vug_status vugi_bore_check(vug_context *ctx, const double *row, size_t number)
{
    static const struct {
        int column;
        const char *name;
        double least, most;
    } range[] = {{VUGI_BORE_DIAMETER, "the diameter in mm", 0.01, 1e6},
        {VUGI_BORE_DEPTH, "the depth in mm", 0.0, INFINITY},
        {VUGI_BORE_TAPER, "the taper's angle", 0.0, 90.0},
        {VUGI_BORE_SINK, "the countersink's diameter in mm", 0.0, 1e6},
        {VUGI_BORE_SINK_ANGLE, "the countersink's angle", 0.0, 170.0}};
    for (int k = 0; k < 3; k++)
        if (!isfinite(row[VUGI_BORE_POINT + k])
            || fabs(row[VUGI_BORE_POINT + k]) > VUG_MAX_COORDINATE_MM
            || !isfinite(row[VUGI_BORE_DIRECTION + k]))
            return vugi_fail(ctx, VUG_ERR_DOMAIN,
                "bore %zu: coordinate %c of its point or direction is not a usable number", number,
                'x' + k);
    double length = vugi_length(row + VUGI_BORE_DIRECTION);
    if (!(length > 0.0) || !isfinite(length))
        return vugi_fail(ctx, VUG_ERR_DOMAIN, "bore %zu: its direction has no length", number);
    for (size_t i = 0; i < sizeof range / sizeof *range; i++) {
        double x = row[range[i].column];
        if (!(x >= range[i].least && x <= range[i].most))
            return vugi_fail(ctx, VUG_ERR_DOMAIN, "bore %zu: %s is %g; it goes from %g to %g",
                number, range[i].name, x, range[i].least, range[i].most);
    }
    if (row[VUGI_BORE_SINK] > 0.0 && row[VUGI_BORE_SINK] <= row[VUGI_BORE_DIAMETER])
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "bore %zu: the countersink is %g mm wide, the bore %g mm; make it wider, or 0 for none",
            number, row[VUGI_BORE_SINK], row[VUGI_BORE_DIAMETER]);
    return VUG_OK;
}

double vugi_bore_sink_angle(const double *row)
{
    return row[VUGI_BORE_SINK_ANGLE] > 0.0 ? row[VUGI_BORE_SINK_ANGLE] : 90.0;
}

void vugi_bore_frame(const double *row, vugi_tool *tool)
{
    double direction[3] = {row[VUGI_BORE_DIRECTION], row[VUGI_BORE_DIRECTION + 1],
        row[VUGI_BORE_DIRECTION + 2]};
    vugi_normalise(direction);
    vugi_tool_frame(tool, row + VUGI_BORE_POINT, direction);
}
