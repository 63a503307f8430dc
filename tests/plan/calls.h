/* SPDX-License-Identifier: MIT
 * Long calls as benchmarks make them; each frees what it makes. */
#ifndef VUG_TEST_PLAN_CALLS_H
#define VUG_TEST_PLAN_CALLS_H

#include "vug.h"

static inline vug_status call_find(vug_context *ctx, const vug_mesh *mesh, const double *holes,
    size_t count, int32_t detect)
{
    vug_cavities *found = NULL;
    vug_cavity_options o;
    vug_cavity_options_init(&o, sizeof o);
    o.detect = detect;
    vug_status status = vug_cavities_find(ctx, mesh, holes, count, &o, &found);
    vug_cavities_free(found);
    return status;
}

static inline vug_status call_thickness(vug_context *ctx, const vug_mesh *mesh,
    const vug_cavities *cavities)
{
    vug_thickness *found = NULL;
    vug_status status = vug_thickness_measure(ctx, mesh, cavities, 0.0, &found);
    vug_thickness_free(found);
    return status;
}

static inline vug_status call_scan(vug_context *ctx, const vug_cavities *cavities,
    const vug_pose_options *options)
{
    vug_pose_scan *found = NULL;
    vug_status status = vug_pose_scan_run(ctx, cavities, NULL, 0, options, &found);
    vug_pose_scan_free(found);
    return status;
}

/* With a plain liquid of so many Pa s. */
static inline vug_status call_fill(vug_context *ctx, const vug_cavities *cavities,
    const double up[3], double viscosity_pa_s, double rate_mm3_s, int32_t viscous)
{
    vug_course *course = NULL;
    vug_fill_options o;
    vug_fluid paint;
    vug_fluid_init(&paint, sizeof paint);
    paint.consistency_pa_sn = viscosity_pa_s;
    vug_fill_options_init(&o, sizeof o);
    o.viscous = viscous;
    o.rate_mm3_s = rate_mm3_s;
    vug_status status = vug_fill_run(ctx, cavities, &paint, up, NULL, 0, &o, &course);
    vug_course_free(course);
    return status;
}

static inline vug_status call_drain(vug_context *ctx, const vug_cavities *cavities)
{
    vug_course *course = NULL;
    vug_drain_options o;
    const double up[3] = {0.0, 0.0, 1.0};
    vug_drain_options_init(&o, sizeof o);
    vug_status status = vug_drain_run(ctx, cavities, NULL, up, NULL, 0, &o, &course);
    vug_course_free(course);
    return status;
}

static inline vug_status call_plan(vug_context *ctx, const vug_cavities *cavities, int32_t preset)
{
    vug_plan *plan = NULL;
    vug_fluid paint;
    vug_fluid_init(&paint, sizeof paint);
    vug_status status = vug_fluid_preset(ctx, preset, VUG_TYPICAL, 20.0, &paint);
    if (!status)
        status = vug_plan_make(ctx, cavities, &paint, NULL, NULL, 0, NULL, &plan);
    vug_plan_free(plan);
    return status;
}

#endif
