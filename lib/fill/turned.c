/* SPDX-License-Identifier: MIT
 * A fill that goes on after the part has been turned. */
#include "fill/fill.h"
#include "fill/job.h"
#include "fill/waits.h"

#include "course/course_types.h"
#include "course/error.h"
#include "turn/turn.h"

/* What the moment does not settle. */
static vug_status read_turn(vug_context *ctx, const vug_cavities *c, const vug_fluid *fluid,
    const vug_moment *from, const double *up, const int32_t *roles, size_t role_count,
    const vug_fill_options *options, vugi_fill_job *j)
{
    vug_status status = vugi_turn_check(ctx, c, from);
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
        status = vugi_chambers_liquid(ctx, from, before);
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
    if (!status)
        status = vugi_course_set_errors(ctx, cavities, course);
    vugi_fill_job_free(ctx, &j);
    if (!status)
        status = vugi_step(ctx, 1.0);
    if (status)
        vug_course_free(course);
    else
        *out = course;
    return status;
}
