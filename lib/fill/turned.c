/* SPDX-License-Identifier: MIT
 * A fill that goes on after the part has been turned. */
#include "fill/fill.h"
#include "fill/job.h"
#include "fill/waits.h"

#include "cavity/cavity.h"
#include "course/course_types.h"
#include "turn/turn.h"

#include <math.h>

/* Volumes of one cavity in two poses differ by no more than this, or it is another cavity. */
static const double SAME = 0.1;

static vug_status check_moment(vug_context *ctx, const vug_cavities *c, const vug_moment *from)
{
    size_t cavity = (size_t)from->scene->graph.sweep.body;
    double volume = from->scene->graph.capacity;
    if (cavity >= c->cavity_count || fabs(c->cavity[cavity].volume - volume) > SAME * volume)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "the moment is of cavity %zu with %g mm3, which is not "
            "one of these cavities",
            cavity, volume);
    return VUG_OK;
}

/* What the moment does not settle. */
static vug_status read_turn(vug_context *ctx, const vug_cavities *c, const vug_fluid *fluid,
    const vug_moment *from, const double *up, const int32_t *roles, size_t role_count,
    const vug_fill_options *options, vugi_fill_job *j)
{
    vug_status status = check_moment(ctx, c, from);
    if (!status)
        status = vugi_fill_read(ctx, c, fluid, up, roles, role_count, options,
            (size_t)from->scene->graph.sweep.body, j);
    if (!status)
        status = vugi_fill_driven(ctx, j);
    if (!status && j->options.columns_across == 0 && j->options.spacing_mm <= 0.0)
        j->stage.spacing = from->scene->columns.h;
    return status;
}

static vug_status turn(vug_context *ctx, const vug_moment *from, vugi_fill_job *j, vug_course **out)
{
    vugi_scene *scene = NULL;
    double *level = NULL, before[VUGI_CHAMBERS];
    vug_status status = vugi_stage_scene(ctx, &ctx->mem, &j->stage, &scene);
    if (status)
        return status;
    if (!(level = vugi_alloc(&ctx->mem, scene->graph.arc_count, sizeof *level)))
        status = vugi_fail_memory(ctx);
    if (!status)
        status = vugi_turn_levels(ctx, from, scene, level);
    j->start = level;
    if (!status)
        status = vugi_chambers_liquid(ctx, from->scene, from->level, before);
    if (!status)
        status = vugi_fill_scene(ctx, j, scene, out);
    if (!status && (status = vugi_fill_waits(ctx, j, before, *out))) {
        vug_course_free(*out);
        *out = NULL;
    }
    j->start = NULL;
    vugi_free(&ctx->mem, level);
    vugi_scene_free(scene);
    return status;
}

vug_status vug_fill_turn(vug_context *ctx, const vug_cavities *cavities, const vug_fluid *fluid,
    const vug_moment *from, const double *up, const int32_t *roles, size_t role_count,
    const vug_fill_options *options, vug_course **out)
{
    vugi_fill_job j = {.role = NULL};
    vug_course *course = NULL;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !from || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities, from or out is NULL");
    vug_status status = read_turn(ctx, cavities, fluid, from, up, roles, role_count, options, &j);
    if (!status) {
        vugi_progress_begin(ctx, "turn");
        status = vugi_step(ctx, 0.0);
    }
    if (!status)
        status = turn(ctx, from, &j, &course);
    vugi_fill_job_free(ctx, &j);
    if (!status && (status = vugi_step(ctx, 1.0))) {
        vug_course_free(course);
        course = NULL;
    }
    if (!status)
        *out = course;
    return status;
}
