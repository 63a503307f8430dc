/* SPDX-License-Identifier: MIT
 * A moment that is not of a course. */
#include "turn/made.h"

#include "cavity/cavity.h"
#include "cavity/spacing.h"
#include "course/course.h"
#include "course/state.h"
#include "gravity/stage.h"
#include "turn/drops.h"
#include "turn/settle.h"

#include <math.h>

/* Levels of all arcs; the lesser of the two moves, unless it is known where the air is. */
static vug_status find_levels(vug_context *ctx, vugi_scene *scene, double liquid, const double *air,
    size_t air_count, double *level)
{
    const vugi_graph *g = &scene->graph;
    const double nothing = 1e-12 * g->capacity, room = g->capacity - liquid;
    bool rises = air_count > 0 || liquid > 0.5 * g->capacity;
    vugi_drop *drop = NULL;
    size_t count = 0;
    if (room <= nothing || liquid <= nothing) {
        for (uint32_t a = 0; a < g->arc_count; a++)
            level[a] = room <= nothing ? g->arc[a].hi : g->arc[a].lo;
        return VUG_OK;
    }
    vug_status status = air_count > 0
        ? vugi_drops_at(ctx, &scene->mem, scene, air, air_count, room, &drop, &count)
        : vugi_drops_even(ctx, &scene->mem, scene, rises ? room : liquid, &drop, &count);
    if (!status)
        status = vugi_drops_settle(ctx, scene, rises, drop, count, level);
    vugi_free(&scene->mem, drop);
    return status;
}

vug_status vugi_moment_made(vug_context *ctx, vugi_scene *scene, double liquid, const double *air,
    size_t air_count, vug_moment **out)
{
    const vugi_graph *g = &scene->graph;
    double *level = vugi_alloc(&ctx->mem, g->arc_count, sizeof *level);
    vug_course *shut = vugi_course_new(ctx, scene);
    vug_status status = level && shut ? find_levels(ctx, scene, liquid, air, air_count, level)
                                      : vugi_fail_memory(ctx);
    if (status) {
        vugi_free(&ctx->mem, level);
        vug_course_free(shut);
        return status;
    }
    const vugi_frame frame = {.liquid = liquid};
    status = vugi_state_make(ctx, shut, &ctx->mem, level, &frame, out);
    vug_course_free(shut);
    return status;
}

static vug_status check(vug_context *ctx, const vug_cavities *c, size_t cavity, double liquid,
    const double *air, size_t air_count)
{
    if (cavity >= c->cavity_count)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no cavity %zu: the part has %zu", cavity,
            c->cavity_count);
    if (!(liquid >= 0.0) || !(liquid <= c->cavity[cavity].volume))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "liquid_mm3 is %g, cavity %zu holds 0 to %g of it: measure what went in once more",
            liquid, cavity, c->cavity[cavity].volume);
    if (air_count > 0 && !air)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "air is NULL, but there are %zu points", air_count);
    for (size_t i = 0; i < 3 * air_count; i++)
        if (!isfinite(air[i]))
            return vugi_fail(ctx, VUG_ERR_ARGUMENT, "air: row %zu is not finite", i / 3);
    return VUG_OK;
}

vug_status vug_moment_make(vug_context *ctx, const vug_cavities *cavities, size_t cavity,
    const double *up, double spacing_mm, double liquid_mm3, const double *air, size_t air_count,
    vug_moment **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or out is NULL");
    vugi_stage stage = {.cavities = cavities,
        .cavity = cavity,
        .sills = VUGI_SILLS_AIR | VUGI_SILLS_LIQUID};
    vugi_scene *scene = NULL;
    vug_status status = check(ctx, cavities, cavity, liquid_mm3, air, air_count);
    if (!status)
        status = vugi_read_up(ctx, up, stage.up);
    if (!status)
        status = vugi_read_spacing(ctx, cavities, cavity, 1, 0, VUGI_ACROSS, spacing_mm,
            &stage.spacing);
    if (!status) {
        vugi_progress_begin(ctx, "columns");
        status = vugi_step(ctx, 0.0);
    }
    if (!status)
        status = vugi_stage_scene(ctx, &ctx->mem, &stage, &scene);
    vug_moment *made = NULL;
    if (!status)
        status = vugi_moment_made(ctx, scene, liquid_mm3, air, air_count, &made);
    vugi_scene_free(scene);
    if (!status)
        status = vugi_step(ctx, 1.0);
    if (status)
        vug_moment_free(made);
    else
        *out = made;
    return status;
}
