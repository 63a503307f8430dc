/* SPDX-License-Identifier: MIT
 * Rinsing: dilution by cycles, by a stream, and by diffusion into a blind tip. */
#include "base/root.h"
#include "flow/flow.h"
#include "flow/numbers.h"

#include <math.h>

/* A share `mixing` of the residue meets the fresh solvent, and that share of the mixture stays:
 * (1 - m) + m m Vr / (m Vr + Vf) = 1 - m Vf / (m Vr + Vf). For m = 1 the plain law of dilution. */
static double factor_of(double residue, double fresh, double mixing)
{
    if (mixing == 0.0)
        return 1.0;
    return 1.0 - mixing * fresh / (mixing * residue + fresh);
}

/* Cycles by the law of dilution; fewer by one if the last bit of the logarithm says one too
 * many. */
static vug_status cycles_for(vug_context *ctx, const char *call, double factor, double target,
    int32_t *cycles)
{
    double needed = 0.0;
    if (target < 1.0)
        needed = factor < 1.0 ? log(target) / log(fmax(factor, 1e-300)) : 1e300;
    needed = ceil(needed * (1.0 - 1e-12)); /* not one more for the last bit of a logarithm */
    if (!(needed <= 1e6))
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: each cycle leaves a fraction %g, so %g would take "
            "more than 1000000 cycles; use more solvent, shake or flush",
            call, factor, target);
    *cycles = (int32_t)needed;
    return VUG_OK;
}

vug_status vug_rinse_solvent(vug_context *ctx, double residue_mm3, double mixing,
    double target_fraction, int32_t cycles, double *fresh_mm3)
{
    const vugi_limit limits[] = {
        {"residue_mm3", residue_mm3, 1e-6, 1e12},
        {"mixing", mixing, 0.0, 1.0},
        {"target_fraction", target_fraction, 1e-12, 1.0},
        {"cycles", cycles, 1.0, 1e6},
    };
    vug_status status = vugi_check(ctx, __func__, limits, 4);
    if (!status)
        status = vugi_check_result(ctx, __func__, "fresh_mm3", fresh_mm3);
    if (status)
        return status;
    /* f = 1 - m F / (m R + F)  =>  F = m R (1 - f) / (m - 1 + f) */
    double factor = pow(target_fraction, 1.0 / cycles);
    if (factor <= 1.0 - mixing)
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: with mixing %g a cycle leaves at least a fraction "
            "%g, but %d cycles would need %g each; take more cycles or shake",
            __func__, mixing, 1.0 - mixing, (int)cycles, factor);
    return vugi_give(ctx, __func__, mixing * residue_mm3 * (1.0 - factor) / (mixing - 1.0 + factor),
        fresh_mm3);
}

vug_status vug_rinse_compare(vug_context *ctx, double cavity_mm3, double residue_mm3, double mixing,
    double target_fraction, vug_rinse *rinse)
{
    const vugi_limit limits[] = {
        {"cavity_mm3", cavity_mm3, 1e-3, 1e12},
        {"residue_mm3", residue_mm3, 1e-6, cavity_mm3 * (1.0 - 1e-9)},
        {"mixing", mixing, 0.0, 1.0},
        {"target_fraction", target_fraction, 1e-12, 1.0},
    };
    vug_status status = vugi_check(ctx, __func__, limits, 4);
    if (status)
        return status;
    vug_rinse own = {.struct_size = sizeof own};
    double fresh = cavity_mm3 - residue_mm3;
    double factor = factor_of(residue_mm3, fresh, mixing);
    status = cycles_for(ctx, __func__, factor, target_fraction, &own.soak_cycles);
    if (status)
        return status;
    own.soak_mm3 = own.soak_cycles * fresh;
    own.soak_reached = pow(factor, own.soak_cycles);
    own.soak_factor = factor;
    /* Amount of residue in the stirred, full cavity falls as exp(-through / cavity); of a stream that
     * mixes in part only that part counts. What drains leaves as much of it as a rinse does. The first
     * fill alone may be enough. */
    double through = fmax(log(factor / target_fraction), 0.0) / mixing;
    own.flush_mm3 = target_fraction == 1.0 ? 0.0 : fresh + cavity_mm3 * through;
    own.least_mm3 = -residue_mm3 * log(target_fraction);
    return vugi_struct_write(ctx, rinse, &own, sizeof own, "vug_rinse");
}

/* Mean concentration of a plane sheet, one face closed and the other kept at zero, at T = D t /
 * depth^2 (Crank, The Mathematics of Diffusion, 1975, eq. 4.18 and its short-time form). */
static double sheet_left(double t)
{
    if (t < 0.05)
        return 1.0 - 2.0 * sqrt(t / VUGI_PI);
    double sum = 0.0;
    for (int k = 0; k < 8; k++) {
        double odd = 2.0 * k + 1.0;
        sum += exp(-0.25 * odd * odd * VUGI_PI * VUGI_PI * t) / (odd * odd);
    }
    return 8.0 / (VUGI_PI * VUGI_PI) * sum;
}

static double sheet_gone(const void *user, double ln_t)
{
    return *(const double *)user - sheet_left(exp(ln_t));
}

vug_status vug_soak_time(vug_context *ctx, double depth_mm, double diffusivity_m2_s,
    double fraction_left, double *time_s)
{
    const vugi_limit limits[] = {
        {"depth_mm", depth_mm, 1e-6, 1e5},
        {"diffusivity_m2_s", diffusivity_m2_s, 1e-18, 1.0},
        {"fraction_left", fraction_left, 1e-9, 1.0 - 1e-6},
    };
    vug_status status = vugi_check(ctx, __func__, limits, 3);
    if (!status)
        status = vugi_check_result(ctx, __func__, "time_s", time_s);
    if (status)
        return status;
    double depth = depth_mm * VUGI_MM;
    double t = exp(vugi_root(sheet_gone, &fraction_left, -1.0));
    return vugi_give(ctx, __func__, t * depth * depth / diffusivity_m2_s, time_s);
}
