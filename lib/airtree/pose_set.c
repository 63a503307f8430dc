/* SPDX-License-Identifier: MIT
 * Many poses at once: their domes and vents, on all threads. */
#include "plan/search/tilt.h"

#include <math.h>
#include <string.h>

void vugi_stances_free(const vugi_allocator *mem, vugi_stances *s)
{
    for (size_t i = 0; i < s->count; i++) {
        if (s->domes)
            vugi_domes_free(mem, s->domes + i);
        if (s->vents)
            vugi_vents_free(mem, s->vents + i);
        if (s->shut)
            vugi_vents_free(mem, s->shut + i);
        if (s->filling)
            vugi_vents_free(mem, s->filling + i);
    }
    vugi_free(mem, s->up);
    vugi_free(mem, s->ease);
    vugi_free(mem, s->domes);
    vugi_free(mem, s->vents);
    vugi_free(mem, s->shut);
    vugi_free(mem, s->filling);
    *s = (vugi_stances){.count = 0};
}

/* One pose, with the thread's room: columns, and once more cut at the gates. */
static vug_status look_at(const vugi_allocator *mem, const vugi_bodies *bodies, double h,
    vugi_stances *s, size_t i, vugi_columns room[2])
{
    double speck = 4.0 * h * h * h; /* a dome worth the name fills some cells */
    const vugi_columns *columns = room;
    vug_status status = vugi_columns_build(NULL, mem, bodies, s->up + 3 * i, h, room);
    if (!status && s->gates->count > 0) {
        columns = room + 1;
        if (!vugi_gates_cut(mem, s->gates, room, room + 1))
            status = VUG_ERR_MEMORY;
    }
    if (!status)
        status = vugi_domes_build(NULL, mem, columns, speck, s->domes + i);
    if (!status)
        status = vugi_vents_build(NULL, mem, s->domes + i, NULL, NULL, 0, 0, s->shut + i);
    return status;
}

static vug_status look(vug_context *ctx, const vug_cavities *cavities, double h, vugi_stances *s,
    unsigned char *verdict)
{
    vugi_bodies bodies = vugi_cavities_bodies(cavities);
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
            vug_status status = look_at(&ctx->mem, &bodies, h, s, i, room);
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

vug_status vugi_stances_build(vug_context *ctx, const vug_cavities *cavities,
    const vugi_gates *gates, const double *up, const double *ease, size_t count, double h,
    vugi_stances *s)
{
    unsigned char *verdict = vugi_calloc(&ctx->mem, count, 1);
    vug_status status = VUG_OK;
    *s = (vugi_stances){.count = count, .gates = gates};
    s->up = vugi_alloc(&ctx->mem, 3 * count, sizeof *s->up);
    s->ease = vugi_calloc(&ctx->mem, count, sizeof *s->ease);
    s->domes = vugi_calloc(&ctx->mem, count, sizeof *s->domes);
    s->vents = vugi_calloc(&ctx->mem, count, sizeof *s->vents);
    s->shut = vugi_calloc(&ctx->mem, count, sizeof *s->shut);
    s->filling = vugi_calloc(&ctx->mem, count, sizeof *s->filling);
    if (!verdict || !s->up || !s->ease || !s->domes || !s->vents || !s->shut || !s->filling) {
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
        s->capacity += s->domes[i].volume / (double)count;
    vugi_free(&ctx->mem, verdict);
    if (status)
        vugi_stances_free(&ctx->mem, s);
    return status;
}

vug_status vugi_stances_vent(vug_context *ctx, const vugi_opening *const *opening,
    const bool *closed, size_t opening_count, size_t in_columns, vugi_stances *s)
{
    atomic_int failed = 0;
    int threads = vugi_threads(ctx, s->count);
    (void)threads;
#pragma omp parallel for schedule(dynamic, 4) num_threads(threads)
    for (size_t i = 0; i < s->count; i++) {
        vugi_vents_free(&ctx->mem, s->vents + i);
        vugi_vents_free(&ctx->mem, s->filling + i);
        if (vugi_vents_build(NULL, &ctx->mem, s->domes + i, opening, closed, opening_count,
                in_columns, s->vents + i)
            || (s->gates->count > 0
                && vugi_vents_filling(NULL, &ctx->mem, s->domes + i, s->vents + i, s->gates,
                    s->filling + i)))
            atomic_store(&failed, 1);
    }
    return atomic_load(&failed) ? vugi_fail_memory(ctx) : VUG_OK;
}

vug_status vugi_stances_append(vug_context *ctx, vugi_stances *s, vugi_stances *more)
{
    const vugi_allocator *mem = &ctx->mem;
    size_t total = s->count + more->count;
    double *up = vugi_realloc(mem, s->up, 3 * total, sizeof *up);
    if (up)
        s->up = up;
    double *ease = vugi_realloc(mem, s->ease, total, sizeof *ease);
    if (ease)
        s->ease = ease;
    vugi_domes *domes = vugi_realloc(mem, s->domes, total, sizeof *domes);
    if (domes)
        s->domes = domes;
    vugi_vents *vents = vugi_realloc(mem, s->vents, total, sizeof *vents);
    if (vents)
        s->vents = vents;
    vugi_vents *shut = vugi_realloc(mem, s->shut, total, sizeof *shut);
    if (shut)
        s->shut = shut;
    vugi_vents *filling = vugi_realloc(mem, s->filling, total, sizeof *filling);
    if (filling)
        s->filling = filling;
    if (!up || !ease || !domes || !vents || !shut || !filling)
        return vugi_fail_memory(ctx);
    memcpy(up + 3 * s->count, more->up, 3 * more->count * sizeof *up);
    memcpy(ease + s->count, more->ease, more->count * sizeof *ease);
    memcpy(domes + s->count, more->domes, more->count * sizeof *domes);
    memcpy(vents + s->count, more->vents, more->count * sizeof *vents);
    memcpy(shut + s->count, more->shut, more->count * sizeof *shut);
    memcpy(filling + s->count, more->filling, more->count * sizeof *filling);
    memset(more->filling, 0, more->count * sizeof *filling);
    memset(more->shut, 0, more->count * sizeof *shut);
    memset(more->domes, 0, more->count * sizeof *domes);
    memset(more->vents, 0, more->count * sizeof *vents);
    s->count = total;
    vugi_stances_free(mem, more);
    return VUG_OK;
}

vug_status vugi_stances_first(vug_context *ctx, const vugi_stances *s, size_t pose, double *air)
{
    const vugi_domes *d = s->domes + pose;
    vugi_air_room room = {.rising = NULL};
    vugi_air rest = {.own = vugi_alloc(&ctx->mem, d->count, sizeof(double))};
    bool ready = rest.own && vugi_air_room_ready(&ctx->mem, d, &room);
    if (ready) {
        vugi_air_first(d, vugi_stances_filling(s, pose), &room, &rest);
        *air = rest.total;
    }
    vugi_free(&ctx->mem, rest.own);
    vugi_air_room_free(&ctx->mem, &room);
    return ready ? VUG_OK : vugi_fail_memory(ctx);
}
