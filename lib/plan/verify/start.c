/* SPDX-License-Identifier: MIT
 * What is inside already. */
#include "plan/verify/start.h"

#include "plan/verify/decide.h"
#include "plan/verify/play.h"
#include "plan/verify/replay.h"

#include "base/sort.h"
#include "course/levels.h"
#include "pose/pose.h"
#include "pose/say.h"

#include <math.h>
#include <string.h>

/* What went in is measured to this share of the cavity, or worse (common practice, no source): so much more than a fill
 * takes is what it takes. */
static const double MEASURED = 0.02;

enum { MOST = 4000 }; /* parcels, about */

/* ---- which cavity ------------------------------------------------------------------------- */

static vug_status choose_cavity(vugi_planning *p, int32_t *cavity)
{
    const vug_cavities *c = p->cavities;
    const int32_t inlet = vugi_inlet_named(p);
    *cavity = inlet >= 0 ? c->opening[inlet].cavity : -1;
    for (size_t i = 0; i < c->opening_count && inlet < 0; i++) {
        if (p->closed[i])
            continue;
        if (*cavity >= 0 && *cavity != c->opening[i].cavity)
            return vugi_fail(p->ctx, VUG_ERR_ARGUMENT,
                "start_given: openings lead into more than one cavity; name the inlet of the one "
                "that has liquid in it");
        *cavity = c->opening[i].cavity;
    }
    if (*cavity < 0)
        return vugi_fail(p->ctx, VUG_ERR_NOT_FOUND,
            "start_given: every opening is plugged, so nothing more goes in: clear one");
    return VUG_OK;
}

vug_status vugi_start_read(vugi_planning *p)
{
    const vug_plan_options *o = &p->options;
    const vug_cavities *c = p->cavities;
    vugi_start *s = &p->start;
    int32_t cavity = 0;
    if (!o->start_given)
        return VUG_OK;
    if (o->pose_given || o->design)
        return vugi_fail(p->ctx, VUG_ERR_ARGUMENT,
            "start_given does not go with %s: the part is printed, and held as start_up says",
            o->pose_given ? "pose_given" : "design");
    vug_status status = vugi_unit(p->ctx, "start_up", o->start_up, s->up);
    if (!status)
        status = choose_cavity(p, &cavity);
    if (status)
        return status;
    double room = c->cavity[cavity].volume;
    if (!(o->start_liquid_mm3 > 0.0) || o->start_liquid_mm3 > room)
        return vugi_fail(p->ctx, VUG_ERR_ARGUMENT,
            "start_liquid_mm3 is %g, it must be above 0 and no more than the %g that the cavity "
            "holds: "
            "what ran out again does not count",
            o->start_liquid_mm3, room);
    vugi_say_nearest(s->up);
    s->given = true;
    s->cavity = (size_t)cavity;
    s->liquid = o->start_liquid_mm3;
    s->air = o->start_air;
    s->air_count = o->start_air ? o->start_air_count : 0;
    s->inlet = -1;
    for (size_t i = 0; i < c->opening_count; i++)
        p->closed[i] |= c->opening[i].cavity != cavity;
    return VUG_OK;
}

/* ---- how it came there ---------------------------------------------------------------------- */

static vugi_replay task_of(const vugi_planning *p, double h)
{
    return (vugi_replay){.cavities = p->cavities,
        .closed = p->closed,
        .fluid = &p->fluid,
        .h = h,
        .start = &p->start,
        .brief = true};
}

/* By which opening a fill in that pose takes as much. */
static vug_status find_inlet(vugi_planning *p)
{
    vugi_start *s = &p->start;
    vugi_replay task = task_of(p, p->square / p->options.verify_across);
    vugi_decision wish = {.inlet = vugi_inlet_named(p)};
    double takes = 0.0;
    vug_status status = vugi_decide_start(p->ctx, &task, &wish, &s->inlet, &takes);
    double more = s->liquid - takes;
    s->unseen = !status && more > MEASURED * p->cavities->cavity[s->cavity].volume;
    if (s->unseen)
        s->inlet = -1;
    else if (more > 0.0)
        s->liquid = 0.0;
    return status;
}

/* ---- its air in parcels ------------------------------------------------------------------------ */

static bool add_parcel(const vugi_allocator *mem, vugi_start *s, size_t *capacity,
    vugi_parcel parcel)
{
    if (!vugi_reserve(mem, &s->parcel, capacity, s->parcels + 1, sizeof *s->parcel))
        return false;
    s->parcel[s->parcels++] = parcel;
    return true;
}

/* By the surface below it: what one body of air rests on is at one height. */
static int by_surface(const void *a, const void *b, const void *user)
{
    const uint32_t x = *(const uint32_t *)a, y = *(const uint32_t *)b;
    const double *top = user;
    if (top[x] != top[y])
        return top[x] < top[y] ? -1 : 1;
    return x < y ? -1 : x > y;
}

/* The spans with air in them, those of a body one after the other, and how long they are in all. */
static bool list_air(const vugi_allocator *mem, const vug_moment *now, const double *top,
    uint32_t **span, size_t *count, double *all)
{
    const vugi_columns *c = &now->scene->columns;
    *count = 0;
    *all = 0.0;
    *span = vugi_alloc(mem, c->count + 1, sizeof **span);
    for (uint32_t i = 0; i < c->count && *span; i++) {
        if (now->scene->graph.sweep.floor_arc[i] == VUGI_NONE || !(c->hi[i] > top[i]))
            continue;
        *all += c->hi[i] - top[i];
        (*span)[(*count)++] = i;
    }
    return *span && vugi_sort(mem, *span, *count, sizeof **span, by_surface, top);
}

/* Pieces of columns, each with what is left over from those before it. */
static bool cut_air(const vugi_allocator *mem, vugi_start *s, const vug_moment *now,
    const double *top, size_t *capacity)
{
    const vugi_columns *c = &now->scene->columns;
    double all = 0.0, saved = 0.0, volume = now->info.trapped_mm3 + now->info.empty_mm3;
    uint32_t *span;
    size_t count;
    bool good = list_air(mem, now, top, &span, &count, &all);
    for (size_t i = 0; i < count && good; i++) {
        double length = c->hi[span[i]] - top[span[i]], part[3];
        saved += length;
        if (saved < all / MOST)
            continue;
        vugi_span_point(&now->scene->graph, span[i], c->hi[span[i]] - 0.5 * length, part);
        good = add_parcel(mem, s, capacity,
            (vugi_parcel){volume * saved / all, (float)volume,
                {(float)part[0], (float)part[1], (float)part[2]}, (int32_t)s->cavity});
        saved = 0.0;
    }
    if (s->parcels > 0 && all > 0.0)
        s->parcel[s->parcels - 1].volume += volume * saved / all;
    vugi_free(mem, span);
    return good;
}

/* Cavities that nothing leads to, or that are left as they are, stay empty. */
static bool add_others(const vugi_planning *p, vugi_start *s, size_t *capacity)
{
    for (size_t i = 0; i < p->cavities->cavity_count; i++) {
        const vugi_cavity *c = p->cavities->cavity + i;
        const double *at = c->centroid;
        if (i == s->cavity)
            continue;
        if (!add_parcel(&p->ctx->mem, s, capacity,
                (vugi_parcel){c->volume, (float)c->volume,
                    {(float)at[0], (float)at[1], (float)at[2]}, (int32_t)i}))
            return false;
    }
    return true;
}

vug_status vugi_start_find(vugi_planning *p)
{
    vugi_start *s = &p->start;
    vug_moment *now = NULL;
    size_t capacity = 0;
    if (!s->given)
        return VUG_OK;
    vug_status status = s->air_count > 0 ? VUG_OK : find_inlet(p);
    vugi_replay task = task_of(p, p->h);
    if (!status)
        status = vugi_replay_start(p->ctx, &task, &now);
    double *top = status ? NULL
                         : vugi_alloc(&p->ctx->mem, now->scene->columns.count + 1, sizeof *top);
    if (!status)
        status = top ? vugi_column_levels(p->ctx, &p->ctx->mem, now, top)
                     : vugi_fail_memory(p->ctx);
    if (!status && (!cut_air(&p->ctx->mem, s, now, top, &capacity) || !add_others(p, s, &capacity)))
        status = vugi_fail_memory(p->ctx);
    vugi_free(&p->ctx->mem, top);
    vug_moment_free(now);
    return status;
}
