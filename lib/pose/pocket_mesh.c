/* SPDX-License-Identifier: MIT
 * A pocket as a mesh: the cavity's own wall above its level. */
#include "pose/pockets.h"
#include "pose/pockets_view.h"

#include "shape/level/body.h"

#include <assert.h>

typedef struct wanted {
    vugi_pockets_view view;
    uint32_t number;
} wanted;

static bool air_holds(const void *user, size_t span, double z)
{
    const wanted *w = user;
    assert(span < w->view.columns->count);
    return w->view.of[span] == w->number && z > vugi_pockets_air_floor(&w->view, span);
}

/* The distinct heights of the liquid below it, rising; more than a thousandth of a spacing apart. */
static vug_status list_levels(vug_context *ctx, const wanted *w, double **level, size_t *count)
{
    const vugi_columns *c = w->view.columns;
    *count = 0;
    if (!(*level = vugi_alloc(&ctx->mem, c->count, sizeof **level)))
        return vugi_fail_memory(ctx);
    for (size_t s = 0; s < c->count; s++) {
        double z = vugi_pockets_air_floor(&w->view, s);
        if (w->view.of[s] == w->number && z > c->lo[s])
            (*level)[(*count)++] = z;
    }
    return vugi_levels_apart(&ctx->mem, 1e-3 * c->h, *level, count) ? VUG_OK
                                                                    : vugi_fail_memory(ctx);
}

vug_status vug_pockets_mesh(vug_context *ctx, const vug_pockets *pockets, size_t index,
    vug_mesh **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!pockets || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "pockets or out is NULL");
    if (index >= pockets->count)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no pocket %zu, there are %zu", index,
            pockets->count);
    const vug_pocket_info *p = pockets->pocket + index;
    wanted w = {.number = pockets->found[index]};
    double *level = NULL;
    size_t levels = 0;
    vug_status status = vugi_pockets_look(ctx, pockets, &w.view);
    if (!status)
        status = list_levels(ctx, &w, &level, &levels);
    const vugi_level_body body = {.wall = pockets->cavities->cavity[p->cavity].mesh,
        .columns = w.view.columns,
        .level = level,
        .levels = levels,
        .holds = air_holds,
        .user = &w,
        .volume = p->volume_mm3,
        .error = p->volume_error_mm3};
    if (!status)
        status = vugi_body_mesh(ctx, &body, false, out);
    vugi_free(&ctx->mem, level);
    vugi_pockets_view_free(ctx, &w.view);
    return status;
}
