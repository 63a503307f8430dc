/* SPDX-License-Identifier: MIT
 * Pools, pockets and surfaces of a moment as meshes: the cavity's own wall, parted at their levels. */
#include "course/course_types.h"
#include "course/levels.h"

#include "shape/level/body.h"

#include <assert.h>
#include <math.h>

typedef struct wanted {
    const vug_moment *moment;
    double *top;     /* of the liquid in each span */
    uint32_t number; /* of the air or of the pool in links; VUGI_NONE: all liquid */
    double *level;   /* of its surfaces */
    size_t levels;
} wanted;

static bool air_holds(const void *user, size_t span, double z)
{
    const wanted *w = user;
    const vugi_graph *g = &w->moment->scene->graph;
    assert(span < g->columns->count);
    uint32_t arc = vugi_arc_at_ceiling(g, span);
    return arc != VUGI_NONE && w->top[span] < g->columns->hi[span] && z > w->top[span]
        && w->moment->links.air[arc] == w->number;
}

static bool liquid_holds(const void *user, size_t span, double z)
{
    const wanted *w = user;
    const vugi_graph *g = &w->moment->scene->graph;
    assert(span < g->columns->count);
    uint32_t arc = vugi_arc_at_floor(g, span);
    return arc != VUGI_NONE && w->top[span] > g->columns->lo[span] && z < w->top[span]
        && (w->number == VUGI_NONE || w->moment->links.pool[arc] == w->number);
}

/* The distinct levels of its surfaces, rising. */
static bool list_levels(const vugi_allocator *mem, wanted *w, bool air)
{
    const vug_moment *m = w->moment;
    const vugi_graph *g = &m->scene->graph;
    w->levels = 0;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        uint32_t pool;
        if (vugi_arc_surface(m, a, &pool)
            && (w->number == VUGI_NONE || w->number == (air ? m->links.air[a] : pool)))
            w->level[w->levels++] = m->level[a];
    }
    return vugi_levels_apart(mem, 2.0 * g->sweep.scale.step, w->level, &w->levels);
}

/* number: of the air, or of the liquid, in links. volume, error: what is told of it. */
static vug_status make_mesh(vug_context *ctx, const vug_moment *m, uint32_t number,
    vugi_span_holds holds, double volume, double error, bool surface, vug_mesh **out)
{
    const vugi_columns *c = &m->scene->columns;
    if (!m->scene->wall)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "the moment has no cavity's mesh");
    wanted w = {.moment = m, .number = number};
    w.top = vugi_alloc(&ctx->mem, c->count + 1, sizeof *w.top);
    w.level = vugi_alloc(&ctx->mem, m->scene->graph.arc_count, sizeof *w.level);
    vug_status status = w.top && w.level ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_column_levels(ctx, &ctx->mem, m, w.top);
    if (!status && !list_levels(&ctx->mem, &w, holds == air_holds))
        status = vugi_fail_memory(ctx);
    if (!status && surface && w.levels == 0)
        status = vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no surface at this moment");
    const vugi_level_body body = {.wall = m->scene->wall,
        .columns = c,
        .level = w.level,
        .levels = w.levels,
        .holds = holds,
        .user = &w,
        .volume = volume,
        .error = error};
    if (!status)
        status = vugi_body_mesh(ctx, &body, surface, out);
    vugi_free(&ctx->mem, w.top);
    vugi_free(&ctx->mem, w.level);
    return status;
}

vug_status vug_moment_surface(vug_context *ctx, const vug_moment *moment, vug_mesh **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!moment || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "moment or out is NULL");
    double error = moment->info.pools > 0 ? moment->pool[0].volume_error_mm3 : 0.0;
    return make_mesh(ctx, moment, VUGI_NONE, liquid_holds, moment->info.liquid_mm3, error, true,
        out);
}

vug_status vug_moment_pocket_mesh(vug_context *ctx, const vug_moment *moment, size_t index,
    vug_mesh **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!moment || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "moment or out is NULL");
    if (index >= moment->info.pockets)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no pocket %zu, there are %u", index,
            (unsigned)moment->info.pockets);
    const vug_pocket_info *p = moment->pocket + index;
    return make_mesh(ctx, moment, moment->pocket_air[index], air_holds, p->volume_mm3,
        p->volume_error_mm3, false, out);
}

vug_status vug_moment_pool_mesh(vug_context *ctx, const vug_moment *moment, size_t index,
    vug_mesh **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!moment || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "moment or out is NULL");
    if (index >= moment->info.pools)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no pool %zu, there are %u", index,
            (unsigned)moment->info.pools);
    const vug_pool_info *p = moment->pool + index;
    return make_mesh(ctx, moment, moment->pool_number[index], liquid_holds, p->volume_mm3,
        p->volume_error_mm3, false, out);
}
