/* SPDX-License-Identifier: MIT
 * A pocket as a mesh: the cavity's own wall above its level. */
#include "pose/pockets.h"
#include "pose/pockets_types.h"

#include "base/vec.h"
#include "cavity/set.h"
#include "shape/level/body.h"
#include "shape/level/piece.h"

#include <assert.h>
#include <math.h>

/* ---- by the walls ---------------------------------------------------------------- */

/* The wall of a pocket's cavity, and what comes before it in the flood. */
typedef struct wall {
    const vugi_terrain *terrain;
    uint32_t triangles, corners;
} wall;

static wall wall_of(const vug_pockets *p, size_t cavity)
{
    wall w = {.triangles = 0};
    for (size_t i = 0; i < cavity; i++) {
        const vugi_terrain *before = vugi_terrain_of(p->cavities->cavity[i].mesh);
        w.triangles += (uint32_t)before->triangle_count;
        w.corners += (uint32_t)before->corner_count;
    }
    w.terrain = vugi_terrain_of(p->cavities->cavity[cavity].mesh);
    return w;
}

/* Lists the triangles that reach above the level below a top of the pocket. *level: the one level that these have. */
static size_t list_triangles(const vug_pockets *p, const wall *w, uint32_t number, uint32_t *place,
    double *level)
{
    const vugi_bodies bodies = vugi_cavities_bodies(p->cavities);
    const vugi_wall_flood *flood = &p->room.walls.flood;
    const double *z = flood->height + w->corners;
    size_t count = 0;
    for (uint32_t i = 0; i < w->terrain->triangle_count; i++) {
        const uint32_t *v = w->terrain->corner + 3 * (size_t)i;
        const vugi_wall_top *top = vugi_wall_flood_top(&bodies, flood,
            w->triangles + w->terrain->order[i]);
        if (top->pocket != number
            || !(vugi_greater(z[v[0]], vugi_greater(z[v[1]], z[v[2]])) > top->level))
            continue;
        place[count++] = i;
        *level = top->level;
    }
    return count;
}

static vug_status mesh_by_walls(vug_context *ctx, const vug_pockets *p, size_t index,
    vug_mesh **out)
{
    const wall w = wall_of(p, p->pocket[index].cavity);
    uint32_t *place = vugi_alloc(&ctx->mem, w.terrain->triangle_count, sizeof *place);
    if (!place)
        return vugi_fail_memory(ctx);
    vugi_wall_piece piece = {.wall = w.terrain,
        .height = p->room.walls.flood.height + w.corners,
        .basis = p->room.basis,
        .place = place};
    piece.count = list_triangles(p, &w, p->found[index], place, &piece.level);
    vug_status status = vugi_piece_mesh(ctx, &piece, out);
    vugi_free(&ctx->mem, place);
    return status;
}

/* ---- by the columns -------------------------------------------------------------- */

typedef struct wanted {
    const vug_pockets *pockets;
    uint32_t number;
} wanted;

static bool air_holds(const void *user, size_t span, double z)
{
    const wanted *w = user;
    const vugi_pose_room *room = &w->pockets->room;
    assert(span < room->columns.count);
    return w->pockets->of[span] == w->number && z > room->flood.level[span];
}

/* The distinct heights of the liquid below it, rising; more than a thousandth of a spacing apart. */
static vug_status list_levels(vug_context *ctx, const wanted *w, double **level, size_t *count)
{
    const vugi_columns *c = &w->pockets->room.columns;
    *count = 0;
    if (!(*level = vugi_alloc(&ctx->mem, c->count, sizeof **level)))
        return vugi_fail_memory(ctx);
    for (size_t s = 0; s < c->count; s++) {
        const double z = w->pockets->room.flood.level[s];
        if (w->pockets->of[s] == w->number && z > c->lo[s])
            (*level)[(*count)++] = z;
    }
    return vugi_levels_apart(&ctx->mem, 1e-3 * c->h, *level, count) ? VUG_OK
                                                                    : vugi_fail_memory(ctx);
}

static vug_status mesh_by_columns(vug_context *ctx, const vug_pockets *pockets, size_t index,
    vug_mesh **out)
{
    const vug_pocket_info *p = pockets->pocket + index;
    const wanted w = {pockets, pockets->found[index]};
    double *level;
    size_t levels;
    vug_status status = list_levels(ctx, &w, &level, &levels);
    const vugi_level_body body = {.wall = pockets->cavities->cavity[p->cavity].mesh,
        .columns = &pockets->room.columns,
        .level = level,
        .levels = levels,
        .holds = air_holds,
        .user = &w,
        .volume = p->volume_mm3,
        .error = p->volume_error_mm3};
    if (!status)
        status = vugi_body_mesh(ctx, &body, false, out);
    vugi_free(&ctx->mem, level);
    return status;
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
    vugi_progress_begin(ctx, "mesh of a pocket");
    return pockets->room.exact ? mesh_by_walls(ctx, pockets, index, out)
                               : mesh_by_columns(ctx, pockets, index, out);
}
