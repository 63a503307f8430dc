/* SPDX-License-Identifier: MIT
 * The pockets of a pose: trapped stretches of spans, joined where they touch. */
#include "pose/pockets.h"

#include "pose/pockets_types.h"

#include "column/columns.h"
#include "column/pose.h"
#include "cavity/extend.h"
#include "cavity/set.h"
#include "cavity/trust.h"

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
    vug_cavities_free(p->cavities);
    vugi_allocator mem = p->mem;
    vugi_free(&mem, p);
}

static double air_floor(const vug_pockets *p, size_t s)
{
    const vugi_columns *c = &p->room.columns;
    return fmin(c->hi[s], fmax(c->lo[s], p->room.flood.level[s]));
}

static bool trapped(const vug_pockets *p, size_t s)
{
    return air_floor(p, s) < p->room.columns.hi[s];
}

static bool air_touches(const vug_pockets *p, size_t a, size_t b)
{
    assert(a < p->room.columns.count && b < p->room.columns.count);
    const vugi_columns *c = &p->room.columns;
    return c->body[a] == c->body[b] && air_floor(p, a) < c->hi[b] && air_floor(p, b) < c->hi[a];
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

/* level: its surface over the error of its level. It has its share of the variances of all that is trapped. */
static double pocket_error(const vug_pockets *p, double volume, double level)
{
    const vugi_pose_sums *sums = &p->sums;
    vugi_estimate own = sums->estimate;
    double share = fmin(1.0, volume / sums->trapped);
    own.caught = volume;
    own.caught_variance *= share;
    own.grain_variance *= share;
    own.level = level;
    return vugi_caught_error(&own, sums->known_error);
}

/* The whole pocket that span start belongs to. */
static vug_pocket_info pocket_from(const vug_pockets *p, gather *g, size_t start)
{
    const vugi_columns *c = &p->room.columns;
    double h2 = c->h * c->h * p->room.scale[c->body[start]], top = -INFINITY, level = INFINITY,
           peak[3] = {0.0, 0.0, 0.0};
    vug_pocket_info info = {.struct_size = sizeof info,
        .cavity = (uint32_t)c->body[start],
        .sealed = p->room.flood.level[start] == -INFINITY};
    g->of[start] = ++g->number;
    g->stack[g->stack_count++] = (uint32_t)start;
    while (g->stack_count > 0) {
        size_t s = g->stack[--g->stack_count], col = g->column[s];
        size_t x = col % (size_t)c->nx, y = col / (size_t)c->nx;
        double floor_z = air_floor(p, s);
        info.volume_mm3 += h2 * (c->hi[s] - floor_z);
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
    info.level_mm = level;
    info.volume_error_mm3 = pocket_error(p, info.volume_mm3,
        info.area_mm2 * vugi_level_error(c, &p->room.flood, false, start));
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
static bool is_speck(const vug_pockets *p, const vug_pocket_info *info)
{
    return info->volume_mm3 < 4.0 * p->spacing * p->spacing * p->spacing;
}

static bool list_by_columns(const vugi_allocator *mem, vug_pockets *p)
{
    const vugi_columns *c = &p->room.columns;
    gather g = {.stack_count = 0};
    uint32_t *column = vugi_alloc(mem, c->count, sizeof *column);
    g.of = p->of = vugi_calloc(&p->mem, c->count, sizeof *p->of);
    g.stack = vugi_alloc(mem, c->count, sizeof *g.stack);
    g.column = column;
    bool good = column && g.of && g.stack;
    if (good)
        vugi_columns_of_spans(c, column);
    for (size_t s = 0; good && s < c->count; s++) {
        if (g.of[s] != 0 || !trapped(p, s))
            continue;
        vug_pocket_info info = pocket_from(p, &g, s);
        good = is_speck(p, &info) || add_pocket(p, &info, g.number);
    }
    vugi_free(mem, column);
    vugi_free(mem, g.stack);
    return good;
}

static bool list_by_walls(const vugi_allocator *mem, vug_pockets *p)
{
    const vugi_bodies bodies = vugi_cavities_bodies(p->cavities);
    vugi_wall_look *walls = &p->room.walls;
    vugi_wall_pocket *list;
    size_t count;
    bool good = vugi_wall_flood_pockets(mem, &bodies, &walls->flood, walls->gates.error, &list,
        &count);
    for (uint32_t i = 0; good && i < count; i++) {
        const vugi_wall_top *top = walls->flood.tops + list[i].top;
        vug_pocket_info info = {.struct_size = sizeof info,
            .cavity = top->body,
            .sealed = top->level == -INFINITY,
            .volume_mm3 = list[i].sums.volume,
            .area_mm2 = list[i].sums.surface,
            .level_mm = list[i].level,
            .volume_error_mm3 = pocket_error(p, list[i].sums.volume, list[i].sums.level)};
        memcpy(info.top_mm, list[i].peak, sizeof info.top_mm);
        good = is_speck(p, &info) || add_pocket(p, &info, i + 1);
    }
    vugi_free(mem, list);
    return good;
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
    p->spacing = setup->spacing;
    p->cavities = vugi_cavities_copy(mem, cavities, 0);
    vug_status status = p->cavities ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_pose_trap(ctx, &p->mem, cavities, setup, unit, &p->room);
    if (!status)
        status = vugi_pose_sum(ctx, &p->mem, cavities, setup, &p->room, &p->sums);
    if (!status && !(p->room.exact ? list_by_walls(mem, p) : list_by_columns(mem, p)))
        status = vugi_fail_memory(ctx);
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
    return p->spacing;
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
