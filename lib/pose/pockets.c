/* SPDX-License-Identifier: MIT
 * The pockets of a pose: trapped stretches of spans, joined where they touch. */
#include "pose/pockets.h"

#include "pose/pose.h"

#include "column/columns.h"
#include "column/pose.h"
#include "cavity/trust.h"
#include "column/section.h"
#include "column/waterline.h"

#include <assert.h>
#include <math.h>
#include <string.h>

struct vug_pockets {
    vugi_allocator mem;
    vugi_pose_room room;
    double up[3];
    vugi_pose_sums sums;
    bool trusted;
    size_t count, room_for;
    vug_pocket_info *pocket;
};

void vug_pockets_free(vug_pockets *p)
{
    if (!p)
        return;
    vugi_pose_room_free(&p->mem, &p->room);
    vugi_free(&p->mem, p->pocket);
    vugi_allocator mem = p->mem;
    vugi_free(&mem, p);
}

/* Lower end of the trapped air in span s; the span's ceiling when there is none. */
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
    unsigned char *seen;
    uint32_t *stack;
    size_t stack_count;
} gather;

static void reach(const vug_pockets *p, gather *g, size_t from, size_t col)
{
    const vugi_columns *c = &p->room.columns;
    for (size_t n = c->first[col]; n < c->first[col + 1]; n++) {
        if (!g->seen[n] && trapped(p, n) && air_touches(p, from, n)) {
            g->seen[n] = 1;
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
    own.level = info->area_mm2 * vugi_level_error(&p->room.columns, &p->room.flood, false, start);
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
    g->seen[start] = 1;
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
    info.volume_error_mm3 = pocket_error(p, &info, start);
    vugi_to_part(c->basis, peak, info.top_mm);
    return info;
}

/* Sampling leaves specks on slanting ridges; a pocket worth a line fills some cells. */
static vug_status list_pockets(vug_context *ctx, vug_pockets *p)
{
    const vugi_columns *c = &p->room.columns;
    vug_status status = VUG_OK;
    double least = 4.0 * c->h * c->h * c->h;
    gather g = {.stack_count = 0};
    uint32_t *column = vugi_alloc(&ctx->mem, c->count, sizeof *column);
    g.seen = vugi_calloc(&ctx->mem, c->count, 1);
    g.stack = vugi_alloc(&ctx->mem, c->count, sizeof *g.stack);
    g.column = column;
    if (!column || !g.seen || !g.stack) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    vugi_columns_of_spans(c, column);
    for (size_t s = 0; s < c->count; s++) {
        if (g.seen[s] || !trapped(p, s))
            continue;
        vug_pocket_info info = pocket_from(p, &g, s);
        if (info.volume_mm3 < least)
            continue;
        if (!vugi_reserve(&p->mem, &p->pocket, &p->room_for, p->count + 1, sizeof *p->pocket)) {
            status = vugi_fail_memory(ctx);
            goto done;
        }
        size_t at = p->count++;
        for (; at > 0 && p->pocket[at - 1].volume_mm3 < info.volume_mm3; at--)
            p->pocket[at] = p->pocket[at - 1];
        p->pocket[at] = info;
    }
done:
    vugi_free(&ctx->mem, column);
    vugi_free(&ctx->mem, g.seen);
    vugi_free(&ctx->mem, g.stack);
    return status;
}

vug_status vug_pockets_find(vug_context *ctx, const vug_cavities *cavities, const double *up,
    const int32_t *roles, size_t role_count, const vug_pose_options *options, vug_pockets **out)
{
    vugi_pose_setup setup = {.role = NULL};
    double unit[3];
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or out is NULL");
    vugi_progress_begin(ctx, "pockets");
    vug_status status = vugi_unit(ctx, "up", up, unit);
    if (!status)
        status = vugi_pose_setup_read(ctx, cavities, roles, role_count, options, 280, &setup);
    if (!status)
        status = vugi_step(ctx, 0.0);
    vug_pockets *p = status ? NULL : vugi_calloc(&ctx->mem, 1, sizeof *p);
    if (!status && !p)
        status = vugi_fail_memory(ctx);
    if (p) {
        p->mem = ctx->mem;
        memcpy(p->up, unit, sizeof unit);
        p->trusted = vugi_cavities_trusted(cavities);
        status = vugi_pose_trap(ctx, &p->mem, cavities, &setup, unit, &p->room);
        if (!status)
            status = vugi_pose_sum(ctx, &p->mem, cavities, &setup, &p->room, &p->sums);
    }
    vugi_pose_setup_free(ctx, &setup);
    if (!status)
        status = vugi_step(ctx, 0.7);
    if (!status)
        status = list_pockets(ctx, p);
    if (!status)
        status = vugi_step(ctx, 1.0);
    if (status) {
        vug_pockets_free(p);
        return status;
    }
    *out = p;
    return VUG_OK;
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
    return air_floor(user, span);
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
        middle[s] = air_floor(pockets, s);
    vug_status status = vugi_columns_levels(ctx, c, middle, points, count, levels_mm);
    vugi_free(&ctx->mem, middle);
    return status;
}
