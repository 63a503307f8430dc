/* SPDX-License-Identifier: MIT
 * Many poses at once: their nodes and vents, on all threads. */
#include "airtree/pose_set.h"

#include "airtree/barrier_cut.h"
#include "airtree/barrier_passage.h"

#include "cavity/rim.h"
#include "cavity/set.h"
#include "column/columns.h"

#include <assert.h>
#include <math.h>
#include <string.h>

void vugi_pose_set_free(const vugi_allocator *mem, vugi_pose_set *s)
{
    for (size_t i = 0; i < s->count; i++) {
        if (s->tree)
            vugi_airtree_free(mem, s->tree + i);
        if (s->vents)
            vugi_vents_free(mem, s->vents + i);
        if (s->shut)
            vugi_vents_free(mem, s->shut + i);
        if (s->filling)
            vugi_vents_free(mem, s->filling + i);
    }
    vugi_free(mem, s->up);
    vugi_free(mem, s->ease);
    vugi_free(mem, s->tree);
    vugi_free(mem, s->vents);
    vugi_free(mem, s->shut);
    vugi_free(mem, s->filling);
    *s = (vugi_pose_set){.count = 0};
}

/* One pose, with the thread's room: columns, and once more cut at the barriers. */
static vug_status look_at(const vugi_allocator *mem, const vug_cavities *cavities, double h,
    vugi_pose_set *s, size_t i, vugi_columns room[2])
{
    const vugi_bodies bodies = vugi_cavities_bodies(cavities);
    double speck = 4.0 * h * h * h; /* a node worth the name fills some cells */
    const vugi_columns *columns = room;
    vug_status status = vugi_columns_build(NULL, mem, &bodies, s->up + 3 * i, h, room);
    for (size_t k = 0; !status && k < cavities->opening_count; k++)
        vugi_opening_fit(cavities->opening + k, room);
    if (!status && s->barriers->count > 0) {
        columns = room + 1;
        if (!vugi_barriers_cut(mem, s->barriers, room, room + 1))
            status = VUG_ERR_MEMORY;
    }
    if (!status)
        status = vugi_airtree_build(NULL, mem, columns, vugi_cavities_volume(cavities), speck,
            s->tree + i);
    if (!status)
        status = vugi_vents_build(NULL, mem, s->tree + i, NULL, NULL, 0, 0, s->shut + i);
    return status;
}

static vug_status look(vug_context *ctx, const vug_cavities *cavities, double h, vugi_pose_set *s,
    unsigned char *verdict)
{
    atomic_size_t done = 0;
    atomic_int stop = 0;
    vug_status stepped = VUG_OK;
    int threads = vugi_threads(ctx, s->count);
    (void)threads;
#pragma omp parallel num_threads(threads)
    {
        vugi_columns room[2] = {{.nx = 0}, {.nx = 0}};
#pragma omp for schedule(dynamic, 1)
        for (size_t i = 0; i < s->count; i++) {
            if (vugi_thread_index() == 0 && !atomic_load(&stop)) {
                stepped = vugi_step(ctx, (double)atomic_load(&done) / (double)s->count);
                if (stepped)
                    atomic_store(&stop, 1);
            }
            if (atomic_load(&stop))
                continue;
            vug_status status = look_at(&ctx->mem, cavities, h, s, i, room);
            verdict[i] = (unsigned char)status;
            if (status)
                atomic_store(&stop, 1);
            atomic_fetch_add(&done, 1);
        }
        vugi_columns_free(&ctx->mem, room);
        vugi_columns_free(&ctx->mem, room + 1);
    }
    return stepped;
}

static vug_status judge(vug_context *ctx, const unsigned char *verdict, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (verdict[i] == VUG_ERR_MEMORY)
            return vugi_fail_memory(ctx);
        if (verdict[i])
            return vugi_fail(ctx, verdict[i], "pose %zu of the search: %s; use a coarser spacing",
                i, vug_status_string(verdict[i]));
    }
    return vugi_step(ctx, 1.0);
}

vug_status vugi_pose_set_build(vug_context *ctx, const vug_cavities *cavities,
    const vugi_barriers *barriers, const double *up, const double *ease, size_t count, double h,
    vugi_pose_set *s)
{
    unsigned char *verdict = vugi_calloc(&ctx->mem, count, 1);
    vug_status status = VUG_OK;
    *s = (vugi_pose_set){.count = count, .barriers = barriers};
    s->up = vugi_alloc(&ctx->mem, 3 * count, sizeof *s->up);
    s->ease = vugi_calloc(&ctx->mem, count, sizeof *s->ease);
    s->tree = vugi_calloc(&ctx->mem, count, sizeof *s->tree);
    s->vents = vugi_calloc(&ctx->mem, count, sizeof *s->vents);
    s->shut = vugi_calloc(&ctx->mem, count, sizeof *s->shut);
    s->filling = vugi_calloc(&ctx->mem, count, sizeof *s->filling);
    if (!verdict || !s->up || !s->ease || !s->tree || !s->vents || !s->shut || !s->filling) {
        status = vugi_fail_memory(ctx);
    } else {
        memcpy(s->up, up, 3 * count * sizeof *s->up);
        if (ease)
            memcpy(s->ease, ease, count * sizeof *s->ease);
        status = look(ctx, cavities, h, s, verdict);
        if (!status)
            status = judge(ctx, verdict, count);
    }
    for (size_t i = 0; i < count && !status; i++)
        s->capacity += s->tree[i].volume / (double)count;
    vugi_free(&ctx->mem, verdict);
    if (status)
        vugi_pose_set_free(&ctx->mem, s);
    return status;
}

vug_status vugi_pose_set_vent(vug_context *ctx, const vugi_opening *const *opening,
    const bool *closed, size_t opening_count, size_t in_columns, vugi_pose_set *s)
{
    atomic_int failed = 0;
    int threads = vugi_threads(ctx, s->count);
    (void)threads;
#pragma omp parallel for schedule(dynamic, 4) num_threads(threads)
    for (size_t i = 0; i < s->count; i++) {
        vugi_vents_free(&ctx->mem, s->vents + i);
        vugi_vents_free(&ctx->mem, s->filling + i);
        if (vugi_vents_build(NULL, &ctx->mem, s->tree + i, opening, closed, opening_count,
                in_columns, s->vents + i)
            || (s->barriers->count > 0
                && vugi_vents_filling(NULL, &ctx->mem, s->tree + i, s->vents + i, s->barriers,
                    s->filling + i)))
            atomic_store(&failed, 1);
    }
    return atomic_load(&failed) ? vugi_fail_memory(ctx) : VUG_OK;
}

vug_status vugi_pose_set_append(vug_context *ctx, vugi_pose_set *s, vugi_pose_set *more)
{
    const vugi_allocator *mem = &ctx->mem;
    size_t total = s->count + more->count;
    double *up = vugi_realloc(mem, s->up, 3 * total, sizeof *up);
    if (up)
        s->up = up;
    double *ease = vugi_realloc(mem, s->ease, total, sizeof *ease);
    if (ease)
        s->ease = ease;
    vugi_airtree *tree = vugi_realloc(mem, s->tree, total, sizeof *tree);
    if (tree)
        s->tree = tree;
    vugi_vents *vents = vugi_realloc(mem, s->vents, total, sizeof *vents);
    if (vents)
        s->vents = vents;
    vugi_vents *shut = vugi_realloc(mem, s->shut, total, sizeof *shut);
    if (shut)
        s->shut = shut;
    vugi_vents *filling = vugi_realloc(mem, s->filling, total, sizeof *filling);
    if (filling)
        s->filling = filling;
    if (!up || !ease || !tree || !vents || !shut || !filling)
        return vugi_fail_memory(ctx);
    memcpy(up + 3 * s->count, more->up, 3 * more->count * sizeof *up);
    memcpy(ease + s->count, more->ease, more->count * sizeof *ease);
    memcpy(tree + s->count, more->tree, more->count * sizeof *tree);
    memcpy(vents + s->count, more->vents, more->count * sizeof *vents);
    memcpy(shut + s->count, more->shut, more->count * sizeof *shut);
    memcpy(filling + s->count, more->filling, more->count * sizeof *filling);
    memset(more->filling, 0, more->count * sizeof *filling);
    memset(more->shut, 0, more->count * sizeof *shut);
    memset(more->tree, 0, more->count * sizeof *tree);
    memset(more->vents, 0, more->count * sizeof *vents);
    s->count = total;
    vugi_pose_set_free(mem, more);
    return VUG_OK;
}

vug_status vugi_pose_set_first(vug_context *ctx, const vugi_pose_set *s, size_t pose, double *air)
{
    assert(pose < s->count);
    const vugi_airtree *d = s->tree + pose;
    vugi_air_room room = {.rising = NULL};
    vugi_air rest = {.own = vugi_alloc(&ctx->mem, d->count, sizeof(double))};
    bool ready = rest.own && vugi_air_room_ready(&ctx->mem, d, &room);
    if (ready) {
        vugi_air_first(d, vugi_pose_set_filling(s, pose), &room, &rest);
        *air = rest.total;
    }
    vugi_free(&ctx->mem, rest.own);
    vugi_air_room_free(&ctx->mem, &room);
    return ready ? VUG_OK : vugi_fail_memory(ctx);
}
