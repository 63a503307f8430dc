/* SPDX-License-Identifier: MIT
 * Ranges in, ranges out, and which input decides. */
#include "flow/interval.h"

#include "flow/fluid.h"

#include <math.h>
#include <string.h>

enum { MOST_INPUTS = 12 };

typedef struct ranges {
    vug_sum_fn sum;
    void *user;
    const double *low, *typical, *high;
    size_t count;
} ranges;

static vug_status check(vug_context *ctx, const ranges *r)
{
    if (!r->sum || !r->low || !r->typical || !r->high || !r->count || r->count > MOST_INPUTS)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "vug_interval_of: a sum and 1 to %d inputs with low, "
            "typical and high are needed",
            MOST_INPUTS);
    for (size_t i = 0; i < r->count; i++)
        if (!(r->low[i] <= r->typical[i] && r->typical[i] <= r->high[i]) || isinf(r->low[i])
            || isinf(r->high[i]))
            return vugi_fail(ctx, VUG_ERR_DOMAIN,
                "vug_interval_of: input %zu goes from %g by %g to "
                "%g; low, typical and high must be in order",
                i, r->low[i], r->typical[i], r->high[i]);
    return VUG_OK;
}

static vug_status evaluate(vug_context *ctx, const ranges *r, const double *input, double *answer)
{
    vug_status status = r->sum(r->user, input, answer);
    if (!status && !isfinite(*answer))
        return vugi_fail(ctx, VUG_ERR_DOMAIN, "vug_interval_of: the sum gave no finite answer");
    return status;
}

/* The sum at all corners, those alike counted once: lowest and highest. */
static vug_status corners(vug_context *ctx, const ranges *r, double *lowest, double *highest)
{
    uint32_t moving = 0;
    for (size_t i = 0; i < r->count; i++)
        moving |= (uint32_t)(r->low[i] < r->high[i]) << i;
    for (uint32_t corner = 0; corner < (uint32_t)1 << r->count; corner++) {
        double input[MOST_INPUTS], answer = 0.0;
        if (corner & ~moving || !moving)
            continue;
        for (size_t i = 0; i < r->count; i++)
            input[i] = corner >> i & 1 ? r->high[i] : r->low[i];
        vug_status status = evaluate(ctx, r, input, &answer);
        if (status)
            return status;
        *lowest = fmin(*lowest, answer);
        *highest = fmax(*highest, answer);
    }
    return VUG_OK;
}

/* How far the answer moves with one input alone; lowest and highest take in what it comes to then. */
static vug_status spread_of(vug_context *ctx, const ranges *r, size_t which, double *spread,
    double *lowest, double *highest)
{
    double input[MOST_INPUTS], ends[2] = {0.0, 0.0};
    *spread = 0.0;
    if (!(r->low[which] < r->high[which]))
        return VUG_OK;
    memcpy(input, r->typical, r->count * sizeof *input);
    for (int end = 0; end < 2; end++) {
        input[which] = end ? r->high[which] : r->low[which];
        vug_status status = evaluate(ctx, r, input, &ends[end]);
        if (status)
            return status;
    }
    *spread = fabs(ends[1] - ends[0]);
    *lowest = fmin(*lowest, fmin(ends[0], ends[1]));
    *highest = fmax(*highest, fmax(ends[0], ends[1]));
    return VUG_OK;
}

vug_status vug_interval_of(vug_context *ctx, vug_sum_fn sum, void *user, const double *low,
    const double *typical, const double *high, size_t count, double *spread, vug_interval *interval)
{
    const ranges r = {sum, user, low, typical, high, count};
    vug_status status = check(ctx, &r);
    if (status)
        return status;
    vug_interval own = {.struct_size = sizeof own, .decides = -1};
    double each[MOST_INPUTS] = {0.0}, most = 0.0;
    status = evaluate(ctx, &r, typical, &own.typical);
    own.low = own.high = own.typical;
    if (!status)
        status = corners(ctx, &r, &own.low, &own.high);
    for (size_t i = 0; !status && i < count; i++) {
        status = spread_of(ctx, &r, i, &each[i], &own.low, &own.high);
        if (!status && each[i] > most) {
            most = each[i];
            own.decides = (int32_t)i;
        }
    }
    if (status)
        return status;
    own.share = own.high > own.low ? most / (own.high - own.low) : 0.0;
    status = vugi_struct_write(ctx, interval, &own, sizeof own, "vug_interval");
    if (!status && spread)
        memcpy(spread, each, count * sizeof *spread);
    return status;
}

/* ---- a fluid known as a range -------------------------------------------------------- */

static void to_inputs(const vug_fluid *f, double input[VUG_PROPERTY_COUNT])
{
    input[VUG_PROPERTY_DENSITY] = f->density_kg_m3;
    input[VUG_PROPERTY_TENSION] = f->surface_tension_n_m;
    input[VUG_PROPERTY_ANGLE] = f->contact_angle_deg;
    input[VUG_PROPERTY_YIELD] = f->yield_stress_pa;
    input[VUG_PROPERTY_CONSISTENCY] = f->consistency_pa_sn;
    input[VUG_PROPERTY_INDEX] = f->flow_index;
}

typedef struct fluid_sum {
    vugi_of_fluid sum;
    void *user;
} fluid_sum;

static vug_status at_inputs(void *user, const double *input, double *answer)
{
    const fluid_sum *s = user;
    vug_fluid fluid = {sizeof fluid, input[VUG_PROPERTY_DENSITY], input[VUG_PROPERTY_TENSION],
        input[VUG_PROPERTY_ANGLE], input[VUG_PROPERTY_YIELD], input[VUG_PROPERTY_CONSISTENCY],
        input[VUG_PROPERTY_INDEX], 0.0};
    return s->sum(s->user, &fluid, answer);
}

vug_status vugi_over_fluids(vug_context *ctx, const char *call, const vug_fluid *low,
    const vug_fluid *typical, const vug_fluid *high, vugi_of_fluid sum, void *user,
    vug_interval *range)
{
    const vug_fluid *given[3] = {low, typical, high};
    double input[3][VUG_PROPERTY_COUNT];
    for (int i = 0; i < 3; i++) {
        vug_fluid own;
        vug_status status = vugi_fluid_read(ctx, call, given[i], &own);
        if (status)
            return status;
        to_inputs(&own, input[i]);
    }
    fluid_sum s = {sum, user};
    return vug_interval_of(ctx, at_inputs, &s, input[0], input[1], input[2], VUG_PROPERTY_COUNT,
        NULL, range);
}
