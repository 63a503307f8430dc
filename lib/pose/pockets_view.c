/* SPDX-License-Identifier: MIT */
#include "pose/pockets_view.h"

#include "cavity/set.h"
#include "column/columns.h"
#include "column/section.h"
#include "column/waterline.h"

static vug_status look_by_walls(vug_context *ctx, const vug_pockets *p, vugi_pockets_view *v)
{
    const vugi_bodies bodies = vugi_cavities_bodies(p->cavities);
    if (p->room.sound) {
        vug_status status = vugi_pose_columns(ctx, &ctx->mem, p->cavities, p->spacing, p->up,
            &v->own_columns);
        if (status)
            return status;
        v->columns = &v->own_columns;
    }
    const vugi_columns *c = v->columns;
    v->level = v->own_level = vugi_alloc(&ctx->mem, c->count, sizeof *v->own_level);
    v->of = v->own_of = vugi_alloc(&ctx->mem, c->count, sizeof *v->own_of);
    if (!v->own_level || !v->own_of)
        return vugi_fail_memory(ctx);
    for (size_t s = 0; s < c->count; s++) {
        const vugi_wall_top *top = vugi_wall_flood_top(&bodies, &p->room.walls.flood,
            c->ceiling[s]);
        v->own_level[s] = top->level;
        v->own_of[s] = c->hi[s] > top->level ? top->pocket : 0;
    }
    return VUG_OK;
}

vug_status vugi_pockets_look(vug_context *ctx, const vug_pockets *p, vugi_pockets_view *v)
{
    *v = (vugi_pockets_view){.columns = &p->room.columns,
        .level = p->room.flood.level,
        .of = p->of};
    return p->room.exact ? look_by_walls(ctx, p, v) : VUG_OK;
}

void vugi_pockets_view_free(vug_context *ctx, vugi_pockets_view *v)
{
    vugi_columns_free(&ctx->mem, &v->own_columns);
    vugi_free(&ctx->mem, v->own_level);
    vugi_free(&ctx->mem, v->own_of);
}

static double air_from(const void *user, size_t span)
{
    return vugi_pockets_air_floor(user, span);
}

vug_status vug_pockets_section(vug_context *ctx, const vug_pockets *p, const double *point,
    const double *direction, double **rows, size_t *row_count)
{
    vugi_pockets_view view;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!p || !point || !direction || !rows || !row_count)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "pockets, point, direction, rows or row_count is NULL");
    vug_status status = vugi_pockets_look(ctx, p, &view);
    if (!status)
        status = vugi_columns_section(ctx, view.columns, point, direction, air_from, &view, rows,
            row_count);
    vugi_pockets_view_free(ctx, &view);
    return status;
}

vug_status vug_pockets_levels(vug_context *ctx, const vug_pockets *pockets, const double *points,
    size_t count, double *levels_mm)
{
    vugi_pockets_view view;
    double *middle = NULL;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!pockets)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "pockets is NULL");
    vug_status status = vugi_pockets_look(ctx, pockets, &view);
    const size_t spans = view.columns->count;
    if (!status && !(middle = vugi_alloc(&ctx->mem, spans + 1, sizeof *middle)))
        status = vugi_fail_memory(ctx);
    for (size_t s = 0; !status && s < spans; s++)
        middle[s] = vugi_pockets_air_floor(&view, s);
    if (!status)
        status = vugi_columns_levels(ctx, view.columns, middle, points, count, levels_mm);
    vugi_free(&ctx->mem, middle);
    vugi_pockets_view_free(ctx, &view);
    return status;
}
