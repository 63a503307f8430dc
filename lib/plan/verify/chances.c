/* SPDX-License-Identifier: MIT
 * Chances from samples. A sample is not played on once so little air is left that nothing is to pay for it: then it is known
 * to be within the limit, and by how much matters of the worst alone. */
#include "plan/verify/chances.h"

#include "plan/cost.h"
#include "plan/verify/sample.h"

#include "base/sort.h"

#include <math.h>
#include <string.h>

typedef vugi_verification scene;

/* The percentile of samples, by nearest rank. */
static vug_status find_most(const scene *s, const double *left, size_t count, double *most)
{
    const double percentile = 0.95;
    double own[VUG_PLAN_SAMPLES];
    memcpy(own, left, count * sizeof *own);
    if (!vugi_sort(&s->p->ctx->mem, own, count, sizeof *own, vugi_by_number, NULL))
        return vugi_fail_memory(s->p->ctx);
    *most = own[(size_t)ceil(percentile * (double)count) - 1];
    return VUG_OK;
}

static bool is_within(const scene *s, double left)
{
    return vugi_option_air(s->o, left) <= s->p->options.limit;
}

/* Within the limit, and nothing to pay: less would say the same. */
static bool is_free(const scene *s, double left)
{
    return is_within(s, left)
        && vugi_cost_of_samples(&s->p->options, &left, 1, s->o->info.capacity_mm3) <= 0.0;
}

static double corrected(double left, double more)
{
    return fmax(0.0, left - more);
}

vug_status vugi_chances_finish(scene *s, size_t count, size_t keep, double more)
{
    vug_status status = VUG_OK;
    for (size_t open = 1; open > 0 && !status;) {
        size_t number[VUG_PLAN_SAMPLES];
        double most = 0.0;
        open = 0;
        status = find_most(s, s->seen, count, &most);
        for (size_t i = 0; i < count; i++)
            if (!s->whole[i] && (s->seen[i] >= most || !is_free(s, corrected(s->seen[i], more))))
                number[open++] = i;
        if (!status && open > 0)
            status = vugi_sample_hands(s, number, open, keep, 0.0);
    }
    return status;
}

/* Of what comes out every second time three quarters of 20 samples fail once in 50 times; and of what comes out 9 times out
 * of 10 none of 20 does once in 8 times, and no more than 2 of 40 once in 4 or 5 times (binomial): to go on would ask for
 * less. In between the alternatives are weighed by how often, so all samples count. */
static const size_t HALF = VUG_PLAN_SAMPLES / 2, SELDOM = VUG_PLAN_SAMPLES / 2 * 3 / 4;

bool vugi_chances_known(const scene *s, size_t count, double more)
{
    size_t over = 0;
    for (size_t i = 0; i < HALF && count == HALF; i++)
        over += !is_within(s, corrected(s->seen[i], more));
    return count >= VUG_PLAN_SAMPLES || (count == HALF && (over == 0 || over >= SELDOM));
}

/* On to so many samples. */
static vug_status play_on(scene *s, size_t *count, size_t to)
{
    const size_t from = *count;
    size_t number[VUG_PLAN_SAMPLES];
    if (from >= to)
        return VUG_OK;
    for (size_t i = from; i < to; i++)
        number[i - from] = i;
    *count = to;
    return vugi_sample_hands(s, number, to - from, s->steps, vugi_cost_free_share(&s->p->options));
}

/* What coarse columns see is told as more or less than what they see of the steps as they are told. By no more than the limit
 * less: columns that are as far off do not know by how much in other hands. What misses the limit as it is told seldom comes
 * out within it in any hand: then half of the samples tell by how much. */
static vug_status sample(scene *s, size_t *count)
{
    const vug_plan_info *info = &s->o->info;
    double coarse = 0.0;
    vug_status status = vugi_sample_told(s, &coarse);
    const double more = fmin(coarse - info->trapped_mm3, s->p->options.limit * info->capacity_mm3);
    *count = s->any ? s->sampled : 0; /* those were at any pace */
    if (!status)
        status = play_on(s, count, HALF);
    if (!status && info->within_limit && !vugi_chances_known(s, *count, more))
        status = play_on(s, count, VUG_PLAN_SAMPLES);
    if (!status)
        status = vugi_chances_finish(s, *count, s->steps, more);
    for (size_t i = 0; i < *count && !status; i++)
        s->seen[i] = corrected(s->seen[i], more);
    return status;
}

vug_status vugi_chances_write(scene *s, double *risk)
{
    size_t count = 0, within = 0;
    vug_plan_info *info = &s->o->info;
    info->tilted_mm3 = info->trapped_mm3;
    info->chance = info->within_limit ? 1.0 : 0.0;
    *risk = 0.0;
    if (!(s->p->options.tilt_deg > 0.0))
        return VUG_OK;
    vug_status status = sample(s, &count);
    if (!status)
        status = find_most(s, s->seen, count, &info->tilted_mm3);
    if (status)
        return status;
    for (size_t i = 0; i < count; i++)
        within += is_within(s, s->seen[i]);
    info->chance = (double)within / (double)count;
    *risk = vugi_cost_of_samples(&s->p->options, s->seen, count, info->capacity_mm3);
    return VUG_OK;
}
