/* SPDX-License-Identifier: MIT
 * Herschel-Bulkley flow in a tube and between plates, in logarithms so that no power overflows.
 *
 * Tube: Q = pi R^3 / tw^3 int_0^tw t^2 rate(t) dt (Rabinowitsch and Mooney), with
 * rate(t) = ((t - ty)/K)^(1/n). With x = tw - ty, c = x/tw, p = ty/tw:
 *   Q / (pi R^3) = (x/K)^(1/n) n c (c^2/(3n+1) + 2 p c/(2n+1) + p^2/(n+1)).
 * Slot of half gap H: Q / (2 W H^2) = (x/K)^(1/n) n c (c/(2n+1) + p/(n+1)).
 * Textbook results (Skelland 1967; Chhabra and Richardson). */
#include "flow/shear.h"

#include <math.h>

/* Parts of the wall stress that shear and that the yield stress takes. */
static void shares(const vug_fluid *fluid, double ln_excess, double *c, double *p)
{
    double excess = exp(ln_excess);
    *c = excess / (excess + fluid->yield_stress_pa);
    *p = fluid->yield_stress_pa / (excess + fluid->yield_stress_pa);
    if (!(excess > 0.0)) /* underflow */
        *c = 0.0, *p = 1.0;
}

static double ln_wall_rate(const vug_fluid *fluid, double ln_excess)
{
    return (ln_excess - log(fluid->consistency_pa_sn)) / fluid->flow_index;
}

double vugi_tube_ln_rate(const vug_fluid *fluid, double ln_excess)
{
    double n = fluid->flow_index, c, p;
    shares(fluid, ln_excess, &c, &p);
    double shape = c * c / (3.0 * n + 1.0) + 2.0 * p * c / (2.0 * n + 1.0) + p * p / (n + 1.0);
    return ln_wall_rate(fluid, ln_excess) + log(n * c * shape);
}

double vugi_slot_ln_rate(const vug_fluid *fluid, double ln_excess)
{
    double n = fluid->flow_index, c, p;
    shares(fluid, ln_excess, &c, &p);
    double shape = c / (2.0 * n + 1.0) + p / (n + 1.0);
    return ln_wall_rate(fluid, ln_excess) + log(n * c * shape);
}
