/* SPDX-License-Identifier: MIT
 * The rate of filling that is just not too high. */
#include "fill/rate.h"

#include "fill/fill.h"
#include "fill/job.h"

#include "course/course_types.h"

#include <math.h>

static const double rate_least = VUGI_RATE_LEAST, rate_most = VUGI_RATE_MOST; /* mm3/s */

/* Liquid inside at the first spill at a rate, or without hurry (rate 0); -1: it never spills. opening (may be NULL):
 * where. */
static vug_status first_spill(vug_context *ctx, const vugi_fill_job *j, vugi_scene *scene,
    double rate, double *volume, int32_t *opening)
{
    vugi_fill_job one = *j;
    vug_course *course = NULL;
    one.options.viscous = rate > 0.0;
    one.options.rate_mm3_s = rate;
    one.options.rate_count = 0;
    one.options.pressure_pa = one.options.volume_mm3 = 0.0;
    one.options.settle = 0;
    one.options.stop_at_spill = 1;
    vug_status status = vugi_fill_scene(ctx, &one, scene, &course);
    *volume = 0.0;
    if (status == VUG_ERR_CONVERGENCE || status == VUG_ERR_DOMAIN)
        return VUG_OK; /* so fast that the levels jump, or that no part bears it: it spills at once */
    if (status)
        return status;
    *volume = course->summary.first_spill_mm3;
    if (opening)
        *opening = course->summary.first_spill_opening;
    vug_course_free(course);
    return VUG_OK;
}

/* An inlet that goes under before the rest is full is tight, or nothing could be let in by it: its own lip is no
 * spill then. Sets that in own, and what is inside at the first spill without hurry. */
static vug_status cover_inlet(vug_context *ctx, vugi_fill_job *own, vugi_scene *scene,
    double *still)
{
    int32_t opening = -1;
    double beyond;
    vugi_fill_job tight = *own;
    vug_status status = first_spill(ctx, own, scene, 0.0, still, &opening);
    if (status || opening < 0 || own->inlet == SIZE_MAX || (size_t)opening != own->inlet)
        return status;
    tight.inlet_covered = true;
    status = first_spill(ctx, &tight, scene, 0.0, &beyond, NULL);
    if (!status && *still < 0.98 * (beyond < 0.0 ? scene->graph.capacity : beyond)) {
        *own = tight;
        *still = beyond;
    }
    return status;
}

/* Between the least rate and the most: down in tens, since slow rates take long; then halves of what is left. scene: with
 * doors. */
static vug_status search(vug_context *ctx, const vugi_fill_job *j, vugi_scene *scene, double still,
    double *rate)
{
    double volume, lo = rate_least, hi = rate_most;
    bool found = false;
    for (int i = 0; hi > 1.02 * lo; i++) {
        double q = i == 0 ? hi : found ? sqrt(lo * hi) : fmax(rate_least, 0.1 * hi);
        vug_status status;
        if ((status = first_spill(ctx, j, scene, q, &volume, NULL))
            || (status = vugi_step(ctx, fmin(0.99, 0.3 + 0.03 * i))))
            return status;
        bool good = volume < 0.0 || volume >= 0.98 * still;
        found |= good;
        if (good)
            lo = q;
        else
            hi = q;
    }
    *rate = lo;
    return VUG_OK;
}

vug_status vugi_rate_limit(vug_context *ctx, const vugi_fill_job *job, vugi_scene *scene,
    double *rate)
{
    double still;
    vugi_fill_job own = *job;
    vugi_scene *timed = NULL;
    *rate = 0.0;
    vug_status status = cover_inlet(ctx, &own, scene, &still);
    if (status || still < 0.0)
        return status;
    own.stage.doors = true;
    status = vugi_stage_scene(ctx, &ctx->mem, &own.stage, &timed);
    if (!status)
        status = search(ctx, &own, timed, still, rate);
    vugi_scene_free(timed);
    return status;
}

vug_status vug_fill_rate_limit(vug_context *ctx, const vug_cavities *cavities,
    const vug_fluid *fluid, const double *up, const int32_t *roles, size_t role_count,
    const vug_fill_options *options, double *rate_mm3_s)
{
    vugi_fill_job j = {.role = NULL};
    vugi_scene *scene = NULL;
    vug_status status;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !rate_mm3_s)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or rate_mm3_s is NULL");
    status = vugi_fill_read(ctx, cavities, fluid, up, roles, role_count, options, SIZE_MAX, &j);
    if (!status) {
        vugi_progress_begin(ctx, "columns");
        status = vugi_step(ctx, 0.0);
    }
    double rate = 0.0;
    j.stage.doors = false;
    if (!status)
        status = vugi_stage_scene(ctx, &ctx->mem, &j.stage, &scene);
    if (!status)
        status = vugi_rate_limit(ctx, &j, scene, &rate);
    vugi_scene_free(scene);
    vugi_fill_job_free(ctx, &j);
    if (!status && rate <= 0.0)
        status = vugi_fail(ctx, VUG_ERR_NOT_FOUND,
            "no opening spills in this pose: there is no limit to "
            "the rate");
    if (!status)
        status = vugi_step(ctx, 1.0);
    if (!status)
        *rate_mm3_s = rate;
    return status;
}
