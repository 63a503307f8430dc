/* SPDX-License-Identifier: MIT
 * What a fill or a drain tells afterwards. */
#include "course/course.h"

#include "course/state.h"

#include <math.h>

vug_course *vugi_course_new(vug_context *ctx, vugi_scene *scene)
{
    vug_course *c = vugi_calloc(&ctx->mem, 1, sizeof *c);
    if (!c)
        return NULL;
    c->mem = c->history.mem = ctx->mem;
    c->scene = vugi_scene_share(scene);
    c->summary = (vug_course_info){.struct_size = sizeof c->summary,
        .inlet = -1,
        .first_spill_opening = -1,
        .first_spill_mm3 = -1.0,
        .first_spill_s = -1.0,
        .settled_s = -1.0,
        .spacing_mm = scene->columns.h,
        .capacity_mm3 = scene->graph.capacity};
    c->open = vugi_calloc(&ctx->mem, scene->mouth_count, sizeof *c->open);
    if (!c->open) {
        vug_course_free(c);
        return NULL;
    }
    return c;
}

void vug_course_free(vug_course *c)
{
    if (!c)
        return;
    vugi_history_free(&c->history);
    vugi_scene_free(c->scene);
    vugi_allocator mem = c->mem;
    vugi_free(&mem, c->open);
    vugi_free(&mem, c);
}

vug_status vugi_course_finish(vug_context *ctx, vug_course *c)
{
    vug_moment *end = NULL;
    vug_course_info *s = &c->summary;
    vug_status status = vug_course_at_time(ctx, c, INFINITY, &end);
    if (status)
        return status;
    s->end = c->history.end;
    s->pockets = end->info.pockets;
    s->pools = end->info.pools;
    s->liquid_mm3 = end->info.liquid_mm3;
    s->trapped_mm3 = end->info.trapped_mm3;
    s->empty_mm3 = end->info.empty_mm3;
    vug_moment_free(end);
    for (size_t i = 0; i < c->history.event_count && !c->draining; i++) {
        const vugi_event *e = c->history.event + i;
        if (e->kind != VUG_EVENT_SPILL)
            continue;
        s->first_spill_opening = e->opening;
        s->first_spill_mm3 = e->liquid;
        s->first_spill_s = e->time;
        break;
    }
    return VUG_OK;
}

vug_status vug_course_get(const vug_course *course, vug_course_info *summary)
{
    if (!course || !summary)
        return VUG_ERR_ARGUMENT;
    return vugi_struct_write(NULL, summary, &course->summary, sizeof course->summary,
        "vug_course_info");
}

size_t vug_course_event_count(const vug_course *course)
{
    return course ? course->history.event_count : 0;
}

vug_status vug_course_event(const vug_course *course, size_t index, vug_event_info *event)
{
    if (!course || !event)
        return VUG_ERR_ARGUMENT;
    if (index >= course->history.event_count)
        return VUG_ERR_NOT_FOUND;
    const vugi_event *e = course->history.event + index;
    vug_event_info own = {.struct_size = sizeof own,
        .kind = e->kind,
        .opening = e->opening,
        .liquid_mm3 = e->liquid,
        .time_s = e->time,
        .level_mm = e->level,
        .volume_mm3 = e->volume,
        .point_mm = {e->point[0], e->point[1], e->point[2]},
        .wait_s = e->wait[0],
        .wait_low_s = e->wait[1],
        .wait_high_s = e->wait[2],
        .diameter_mm = e->diameter};
    return vugi_struct_write(NULL, event, &own, sizeof own, "vug_event_info");
}

static vug_status moment_at(vug_context *ctx, const vug_course *course, double x, bool by_time,
    const char *name, vug_moment **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!course || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "course or out is NULL");
    if (isnan(x))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is not a number", name);
    const vugi_graph *g = &course->scene->graph;
    vugi_frame frame;
    double *level = vugi_alloc(&ctx->mem, g->arc_count, sizeof *level);
    if (!level)
        return vugi_fail_memory(ctx);
    vugi_history_at(&course->history, g, x, by_time, level, &frame);
    return vugi_state_make(ctx, course, &ctx->mem, level, &frame, out);
}

vug_status vug_course_at_volume(vug_context *ctx, const vug_course *course, double volume_mm3,
    vug_moment **out)
{
    return moment_at(ctx, course, volume_mm3, false, "volume_mm3", out);
}

vug_status vug_course_at_time(vug_context *ctx, const vug_course *course, double time_s,
    vug_moment **out)
{
    return moment_at(ctx, course, time_s, true, "time_s", out);
}

vug_status vug_course_curve(vug_context *ctx, const vug_course *course, double **rows,
    size_t *row_count)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!course || !rows || !row_count)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "course, rows or row_count is NULL");
    const vugi_history *h = &course->history;
    double *out = vugi_alloc(&ctx->mem, 3 * h->frame_count, sizeof *out);
    if (!out)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < h->frame_count; i++) {
        out[3 * i] = isfinite(h->frame[i].time) ? h->frame[i].time : -1.0; /* never by itself */
        out[3 * i + 1] = h->frame[i].liquid;
        out[3 * i + 2] = h->frame[i].pressure;
    }
    *rows = out;
    *row_count = h->frame_count;
    return VUG_OK;
}
