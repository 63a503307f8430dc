/* SPDX-License-Identifier: MIT
 * The pockets of a pose: trapped stretches of spans, joined where they touch. */
#include "pose/pockets.h"

#include "pose/pockets_types.h"

#include "column/columns.h"
#include "column/pose.h"
#include "cavity/set.h"
#include "cavity/trust.h"
#include "column/section.h"
#include "column/waterline.h"

#include <assert.h>
#include <math.h>
#include <string.h>

void vug_pockets_free(vug_pockets *p)
{
    if (!p)
        return;
    vugi_pose_room_free(&p->mem, &p->room);
    vugi_free(&p->mem, p->pocket);
    vugi_free(&p->mem, p->found);
    vugi_free(&p->mem, p->of);
    for (size_t i = 0; i < p->wall_count; i++)
        vug_mesh_free(p->wall[i]);
    vugi_free(&p->mem, p->wall);
    vugi_allocator mem = p->mem;
    vugi_free(&mem, p);
}

double vugi_pockets_air_floor(const vug_pockets *p, size_t s)
{
    const vugi_columns *c = &p->room.columns;
    return fmin(c->hi[s], fmax(c->lo[s], p->room.flood.level[s]));
}

static bool trapped(const vug_pockets *p, size_t s)
{
    return vugi_pockets_air_floor(p, s) < p->room.columns.hi[s];
}

static bool air_touches(const vug_pockets *p, size_t a, size_t b)
{
    assert(a < p->room.columns.count && b < p->room.columns.count);
    const vugi_columns *c = &p->room.columns;
    return c->body[a] == c->body[b] && vugi_pockets_air_floor(p, a) < c->hi[b]
        && vugi_pockets_air_floor(p, b) < c->hi[a];
}

typedef struct gather {
    const uint32_t *column;
    uint32_t *of; /* of each span: the number of the pocket, as found from 1 on; 0: not seen */
    uint32_t number;
    uint32_t *stack;
    size_t stack_count;
} gather;

static void reach(const vug_pockets *p, gather *g, size_t from, size_t col)
{
    const vugi_columns *c = &p->room.columns;
    for (size_t n = c->first[col]; n < c->first[col + 1]; n++) {
        if (g->of[n] == 0 && trapped(p, n) && air_touches(p, from, n)) {
            g->of[n] = g->number;
            g->stack[g->stack_count++] = (uint32_t)n;
        }
    }
}

/* Its surface over the error of its level, and its share of the variances of all that is trapped. */
static double pocket_error(const vug_pockets *p, const vug_pocket_info *info, size_t start)
{
    const vugi_pose_sums *sums = &p->sums;
    vugi_estimate own = sums->estimate;
    double share = fmin(1.0, info->volume_mm3 / sums->trapped);
    own.caught = info->volume_mm3;
    own.caught_variance *= share;
    own.grain_variance *= share;
    own.level = info->area_mm2 * vugi_level_error(&p->room.columns, &p->room.flood, false, start);
    return vugi_caught_error(&own, sums->known_error);
}

/* The whole pocket that span start belongs to. */
static vug_pocket_info pocket_from(const vugi_bodies *bodies, vug_pockets *p, gather *g,
    size_t start)
{
    const vugi_columns *c = &p->room.columns;
    double h2 = c->h * c->h * p->room.scale[c->body[start]], top = -INFINITY, level = INFINITY,
           peak[3] = {0.0, 0.0, 0.0};
    vugi_wall_sums walls = {.volume = 0.0};
    vug_pocket_info info = {.struct_size = sizeof info,
        .cavity = (uint32_t)c->body[start],
        .sealed = p->room.flood.level[start] == -INFINITY};
    g->of[start] = ++g->number;
    g->stack[g->stack_count++] = (uint32_t)start;
    while (g->stack_count > 0) {
        size_t s = g->stack[--g->stack_count], col = g->column[s];
        size_t x = col % (size_t)c->nx, y = col / (size_t)c->nx;
        double floor_z = vugi_pockets_air_floor(p, s);
        info.volume_mm3 += h2 * (c->hi[s] - floor_z);
        if (p->room.exact) {
            vugi_wall_flood_pocket(bodies, &p->room.walls.flood, c->ceiling[s], &walls);
            vugi_wall_flood_pocket(bodies, &p->room.walls.flood, c->floor[s], &walls);
        }
        if (floor_z > c->lo[s])
            info.area_mm2 += h2;
        level = fmin(level, floor_z);
        if (c->hi[s] > top) {
            top = c->hi[s];
            peak[0] = c->x0 + (double)x * c->h;
            peak[1] = c->y0 + (double)y * c->h;
            peak[2] = top;
        }
        if (x > 0)
            reach(p, g, s, col - 1);
        if (x + 1 < (size_t)c->nx)
            reach(p, g, s, col + 1);
        if (y > 0)
            reach(p, g, s, col - (size_t)c->nx);
        if (y + 1 < (size_t)c->ny)
            reach(p, g, s, col + (size_t)c->nx);
    }
    info.volume_mm3 = p->room.exact ? walls.volume : info.volume_mm3;
    info.level_mm = level;
    info.volume_error_mm3 = pocket_error(p, &info, start);
    vugi_to_part(c->basis, peak, info.top_mm);
    return info;
}

static bool add_pocket(vug_pockets *p, const vug_pocket_info *info, uint32_t found)
{
    if (!vugi_reserve(&p->mem, &p->pocket, &p->room_for, p->count + 1, sizeof *p->pocket)
        || !vugi_reserve(&p->mem, &p->found, &p->found_room, p->count + 1, sizeof *p->found))
        return false;
    size_t at = p->count++;
    for (; at > 0 && p->pocket[at - 1].volume_mm3 < info->volume_mm3; at--) {
        p->pocket[at] = p->pocket[at - 1];
        p->found[at] = p->found[at - 1];
    }
    p->pocket[at] = *info;
    p->found[at] = found;
    return true;
}

/* Sampling leaves specks on slanting ridges; a pocket worth a line fills some cells. */
static vug_status list_pockets(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, vug_pockets *p)
{
    const vugi_bodies bodies = vugi_cavities_bodies(cavities);
    const vugi_columns *c = &p->room.columns;
    vug_status status = VUG_OK;
    double least = 4.0 * c->h * c->h * c->h;
    gather g = {.stack_count = 0};
    uint32_t *column = vugi_alloc(mem, c->count, sizeof *column);
    g.of = p->of = vugi_calloc(&p->mem, c->count, sizeof *p->of);
    g.stack = vugi_alloc(mem, c->count, sizeof *g.stack);
    g.column = column;
    if (!column || !g.of || !g.stack) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    vugi_columns_of_spans(c, column);
    for (size_t s = 0; s < c->count; s++) {
        if (g.of[s] != 0 || !trapped(p, s))
            continue;
        vug_pocket_info info = pocket_from(&bodies, p, &g, s);
        if (info.volume_mm3 >= least && !add_pocket(p, &info, g.number)) {
            status = vugi_fail_memory(ctx);
            goto done;
        }
    }
done:
    vugi_free(mem, column);
    vugi_free(mem, g.stack);
    return status;
}

/* The cavities' meshes, shared with them. */
static bool keep_walls(vug_pockets *p, const vug_cavities *cavities)
{
    p->wall = vugi_alloc(&p->mem, cavities->cavity_count, sizeof *p->wall);
    for (size_t i = 0; p->wall && i < cavities->cavity_count; i++)
        p->wall[p->wall_count++] = vugi_mesh_share(cavities->cavity[i].mesh);
    return p->wall != NULL;
}

vug_status vugi_pockets_make(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, const vugi_pose_setup *setup, const double unit[3],
    vug_pockets **out)
{
    vug_pockets *p = vugi_calloc(mem, 1, sizeof *p);
    if (!p)
        return vugi_fail_memory(ctx);
    p->mem = *mem;
    memcpy(p->up, unit, sizeof p->up);
    p->trusted = vugi_cavities_trusted(cavities);
    vug_status status = keep_walls(p, cavities) ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_pose_trap(ctx, &p->mem, cavities, setup, unit, &p->room);
    if (!status)
        status = vugi_pose_sum(ctx, &p->mem, cavities, setup, &p->room, &p->sums);
    if (!status)
        status = list_pockets(ctx, mem, cavities, p);
    if (status)
        vug_pockets_free(p);
    else
        *out = p;
    return status;
}

const double *vugi_pockets_up(const vug_pockets *p)
{
    return p->up;
}

double vugi_pockets_spacing(const vug_pockets *p)
{
    return p->room.columns.h;
}

size_t vug_pockets_count(const vug_pockets *p)
{
    return p ? p->count : 0;
}

double vug_pockets_capacity_mm3(const vug_pockets *p)
{
    return p ? p->sums.capacity : 0.0;
}

double vug_pockets_trapped_mm3(const vug_pockets *p)
{
    return p ? p->sums.trapped : 0.0;
}

vug_status vug_pockets_totals(const vug_pockets *p, vug_pockets_info *info)
{
    if (!p || !info)
        return VUG_ERR_ARGUMENT;
    const vug_pockets_info own = {.struct_size = sizeof own,
        .trusted = p->trusted,
        .capacity_mm3 = p->sums.capacity,
        .capacity_error_mm3 = p->sums.capacity_error,
        .trapped_mm3 = p->sums.trapped,
        .trapped_error_mm3 = p->sums.trapped_error};
    return vugi_struct_write(NULL, info, &own, sizeof own, "vug_pockets_info");
}

vug_status vug_pockets_get(const vug_pockets *p, size_t index, vug_pocket_info *info)
{
    if (!p || !info)
        return VUG_ERR_ARGUMENT;
    if (index >= p->count)
        return VUG_ERR_NOT_FOUND;
    return vugi_struct_write(NULL, info, p->pocket + index, sizeof *p->pocket, "vug_pocket_info");
}

/* ---- a section for drawing -------------------------------------------------- */

static double air_from(const void *user, size_t span)
{
    return vugi_pockets_air_floor(user, span);
}

vug_status vug_pockets_section(vug_context *ctx, const vug_pockets *p, const double *point,
    const double *direction, double **rows, size_t *row_count)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!p || !point || !direction || !rows || !row_count)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "pockets, point, direction, rows or row_count is NULL");
    return vugi_columns_section(ctx, &p->room.columns, point, direction, air_from, p, rows,
        row_count);
}

vug_status vug_pockets_levels(vug_context *ctx, const vug_pockets *pockets, const double *points,
    size_t count, double *levels_mm)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!pockets)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "pockets is NULL");
    const vugi_columns *c = &pockets->room.columns;
    double *middle = vugi_alloc(&ctx->mem, c->count + 1, sizeof *middle);
    if (!middle)
        return vugi_fail_memory(ctx);
    for (size_t s = 0; s < c->count; s++)
        middle[s] = vugi_pockets_air_floor(pockets, s);
    vug_status status = vugi_columns_levels(ctx, c, middle, points, count, levels_mm);
    vugi_free(&ctx->mem, middle);
    return status;
}
