/* SPDX-License-Identifier: MIT
 * Needles by gauge and syringes by size. */
#include "flow/needle.h"

#include "flow/numbers.h"

#include <math.h>

/* Regular wall: outer and inner diameter of the gauge charts of the trade; least bore of ISO
 * 9626:2016 for the metric size of the same outer diameter (from memory; 0 where not known). */
static const vug_needle needles[] = {
    {sizeof(vug_needle), 10, 3.404, 2.692, 2.500},
    {sizeof(vug_needle), 11, 3.048, 2.388, 0.0},
    {sizeof(vug_needle), 12, 2.769, 2.159, 1.950},
    {sizeof(vug_needle), 13, 2.413, 1.803, 1.700},
    {sizeof(vug_needle), 14, 2.108, 1.600, 1.500},
    {sizeof(vug_needle), 15, 1.829, 1.372, 1.300},
    {sizeof(vug_needle), 16, 1.651, 1.194, 1.100},
    {sizeof(vug_needle), 17, 1.473, 1.067, 0.950},
    {sizeof(vug_needle), 18, 1.270, 0.838, 0.790},
    {sizeof(vug_needle), 19, 1.067, 0.686, 0.648},
    {sizeof(vug_needle), 20, 0.908, 0.603, 0.560},
    {sizeof(vug_needle), 21, 0.819, 0.514, 0.490},
    {sizeof(vug_needle), 22, 0.718, 0.413, 0.390},
    {sizeof(vug_needle), 23, 0.641, 0.337, 0.317},
    {sizeof(vug_needle), 25, 0.514, 0.260, 0.0},
    {sizeof(vug_needle), 27, 0.413, 0.210, 0.0},
    {sizeof(vug_needle), 30, 0.311, 0.159, 0.0},
};
enum { NEEDLES = sizeof needles / sizeof needles[0] };

vug_status vug_needle_by_gauge(vug_context *ctx, int32_t gauge, vug_needle *needle)
{
    for (size_t i = 0; i < NEEDLES; i++)
        if (needles[i].gauge == gauge)
            return vugi_struct_write(ctx, needle, &needles[i], sizeof needles[i], "vug_needle");
    return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
        "%s: no needle of gauge %d; known are 10 to 23, 25, 27 "
        "and 30",
        __func__, (int)gauge);
}

vug_status vug_needle_through(vug_context *ctx, double hole_mm, double gap_mm, vug_needle *needle)
{
    const vugi_limit limits[] = {{"hole_mm", hole_mm, 0.0, 1e4}, {"gap_mm", gap_mm, 0.0, 1e4}};
    vug_status status = vugi_check(ctx, __func__, limits, 2);
    if (status)
        return status;
    for (size_t i = 0; i < NEEDLES; i++)
        if (needles[i].outer_mm + gap_mm <= hole_mm * (1.0 + 1e-12))
            return vugi_struct_write(ctx, needle, &needles[i], sizeof needles[i], "vug_needle");
    return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
        "%s: no needle leaves %g mm free in a hole of %g mm; the "
        "thinnest is %g mm",
        __func__, gap_mm, hole_mm, needles[NEEDLES - 1].outer_mm);
}

/* ---- syringes ------------------------------------------------------------------ */

/* Bore of common plastic syringes, as pump tables list them; 2, 2.5, 30 and 50 mL from memory. */
static const struct {
    double nominal_ml, plunger_mm;
} syringes[] = {
    {1.0, 4.69},
    {2.0, 8.59},
    {2.5, 8.59},
    {3.0, 8.59},
    {5.0, 11.99},
    {10.0, 14.48},
    {20.0, 19.05},
    {30.0, 21.7},
    {50.0, 26.59},
    {60.0, 26.59},
};

/* ISO 7886-1, table 1 (rows from memory; the text's own example, 4 mL from 10 mL: 0.15 + 0.04). */
double vugi_syringe_tolerance(double capacity_ml, double expelled_ml)
{
    bool small = capacity_ml < 5.0;
    if (expelled_ml < 0.5 * capacity_ml)
        return 0.015 * capacity_ml + (small ? 0.02 : 0.01) * expelled_ml;
    return (small ? 0.05 : 0.04) * expelled_ml;
}

double vugi_syringe_dead_space(double capacity_ml)
{
    static const struct {
        double below, dead;
    } row[] = {
        {5.0, 0.07},
        {10.0, 0.075},
        {20.0, 0.10},
        {30.0, 0.15},
        {50.0, 0.17},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++)
        if (capacity_ml < row[i].below)
            return row[i].dead;
    return 0.20;
}

vug_status vug_syringe_by_size(vug_context *ctx, double nominal_ml, vug_syringe *syringe)
{
    for (size_t i = 0; i < sizeof syringes / sizeof syringes[0]; i++) {
        double ml = syringes[i].nominal_ml;
        if (fabs(ml - nominal_ml) > 1e-9)
            continue;
        vug_syringe own = {sizeof own, ml, syringes[i].plunger_mm, vugi_syringe_dead_space(ml),
            vugi_syringe_tolerance(ml, ml)};
        return vugi_struct_write(ctx, syringe, &own, sizeof own, "vug_syringe");
    }
    return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
        "%s: no syringe of %g mL; known are 1, 2, 2.5, 3, 5, 10, "
        "20, 30, 50 and 60",
        __func__, nominal_ml);
}

vug_status vug_syringe_tolerance(vug_context *ctx, double nominal_ml, double expelled_ml,
    double *tolerance_ml)
{
    const vugi_limit limits[] = {
        {"nominal_ml", nominal_ml, 0.1, 1000.0},
        {"expelled_ml", expelled_ml, 0.0, nominal_ml},
    };
    vug_status status = vugi_check(ctx, __func__, limits, 2);
    if (!status)
        status = vugi_check_result(ctx, __func__, "tolerance_ml", tolerance_ml);
    return status
        ? status
        : vugi_give(ctx, __func__, vugi_syringe_tolerance(nominal_ml, expelled_ml), tolerance_ml);
}
