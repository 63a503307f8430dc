/* SPDX-License-Identifier: MIT
 * Sets of candidates by the air that a first fill leaves with them. */
#include "plan/bores/sets.h"

#include "plan/bores/candidates.h"
#include "plan/cost.h"
#include "plan/search/alternatives.h"
#include "plan/search/tilt.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* ---- each candidate alone ------------------------------------------------------------- */

/* The vents of the pose sets, given away. */
static void take_vents(vugi_pose_set *s, bool first, vugi_vents *to)
{
    for (size_t k = 0; k < s->count; k++) {
        vugi_vents *from = first && s->filling[k].room ? s->filling + k : s->vents + k;
        to[k] = *from;
        *from = (vugi_vents){.room = NULL};
    }
}

/* base has room for one more. */
static vug_status vent_each(vugi_candidates *candidates, vugi_site *base, size_t bases)
{
    vugi_planning *p = candidates->p;
    for (; candidates->vented < candidates->count; candidates->vented++) {
        vug_status status = vugi_step(p->ctx, 0.0);
        base[bases] = candidates->list[candidates->vented].site;
        if (!status)
            status = vugi_plan_vent(p, base, bases + 1);
        if (status)
            return status;
        take_vents(&p->pose_set, !candidates->rising,
            candidates->alone + candidates->vented * p->pose_set.count);
    }
    return VUG_OK;
}

/* ---- one set ---------------------------------------------------------------------------- */

typedef struct scratch {
    vugi_vents vents; /* of the set in a pose */
    vugi_air_room room;
    vugi_air air;
} scratch;

static void scratch_free(const vugi_allocator *mem, scratch *s)
{
    vugi_vents_free(mem, &s->vents);
    vugi_air_room_free(mem, &s->room);
    vugi_free(mem, s->air.own);
}

static bool scratch_ready(const vugi_allocator *mem, const vugi_pose_set *s, scratch *room)
{
    size_t most = 1;
    for (size_t k = 0; k < s->count; k++)
        most = s->tree[k].count > most ? s->tree[k].count : most;
    room->vents.room = vugi_alloc(mem, most, sizeof *room->vents.room);
    room->vents.vent = vugi_alloc(mem, most, sizeof *room->vents.vent);
    room->air.own = vugi_alloc(mem, most, sizeof *room->air.own);
    return room->vents.room && room->vents.vent && room->air.own;
}

/* A node that several openings let air out of keeps what the highest of them leaves it. */
static void merge(const vugi_candidates *candidates, const vugi_set *set, size_t size, size_t pose,
    vugi_vents *v)
{
    assert(pose < candidates->p->pose_set.count);
    assert(size > 0);
    size_t poses = candidates->p->pose_set.count, count = candidates->p->pose_set.tree[pose].count;
    for (size_t i = 0; i < size; i++) {
        const vugi_vents *own = candidates->alone + set->member[i] * poses + pose;
        for (size_t n = 0; n < count; n++) {
            v->room[n] = i == 0 ? own->room[n] : fmin(v->room[n], own->room[n]);
            v->vent[n] = i == 0 || own->vent[n] > v->vent[n] ? own->vent[n] : v->vent[n];
        }
    }
}

/* What holding the pose takes, and turning what is inside already to it. In turns. */
static double effort(const vugi_candidates *candidates, size_t pose)
{
    const vugi_pose_set *s = &candidates->p->pose_set;
    return candidates->rising ? vugi_turn_effort(s, candidates->p->first, (uint32_t)pose)
                              : s->ease[pose];
}

/* Least air over the limit of a first fill in a pose that may be filled in, with what the pose and the
 * bores cost. false: no memory. */
static bool value_set(const vugi_candidates *candidates, size_t size, vugi_set *set, scratch *s)
{
    const vugi_planning *p = candidates->p;
    set->value = INFINITY;
    for (size_t k = 0; k < p->pose_set.count; k++) {
        if (p->first != UINT32_MAX && k != p->first && !candidates->rising)
            continue;
        merge(candidates, set, size, k, &s->vents);
        if (!vugi_candidates_air(candidates, k, &s->vents, &s->room, &s->air))
            return false;
        double over = fmax(0.0, s->air.total - p->limit) / p->pose_set.capacity;
        set->value = fmin(set->value, vugi_cost_set_pose(over, effort(candidates, k)));
    }
    for (size_t i = 0; i < size; i++)
        set->value += vugi_cost_set_place(candidates->list[set->member[i]].site.cost);
    return true;
}

/* ---- many sets ----------------------------------------------------------------------------- */

static double sets_of(size_t n, size_t size)
{
    double sets = 1.0;
    for (size_t i = 0; i < size; i++)
        sets = sets * (double)(n - i) / (double)(i + 1);
    return sets;
}

/* The next set of numbers below n in order; false after the last. */
static bool next_set(uint8_t *member, size_t size, size_t n)
{
    size_t i = size;
    while (i > 0 && member[i - 1] == n - size + i - 1)
        i--;
    if (i == 0)
        return false;
    member[i - 1]++;
    for (; i < size; i++)
        member[i] = (uint8_t)(member[i - 1] + 1);
    return true;
}

static size_t list_all(vugi_set *list, size_t n, size_t size)
{
    size_t count = 0;
    vugi_set set = {{0}, 0.0};
    for (size_t i = 0; i < size; i++)
        set.member[i] = (uint8_t)i;
    do
        list[count++] = set;
    while (next_set(set.member, size, n));
    return count;
}

static size_t list_larger(vugi_set *list, size_t n, size_t size, const vugi_set *smaller)
{
    size_t count = 0;
    for (size_t i = 0; i < n; i++)
        if (!memchr(smaller->member, (int)i, size - 1)) {
            list[count] = *smaller;
            list[count++].member[size - 1] = (uint8_t)i;
        }
    return count;
}

static vug_status value_sets(const vugi_candidates *candidates, size_t size, vugi_set *list,
    size_t count)
{
    vug_context *ctx = candidates->p->ctx;
    atomic_int stop = 0;
    vug_status stepped = VUG_OK;
    int threads = vugi_threads(ctx, count);
    (void)threads;
#pragma omp parallel num_threads(threads)
    {
        scratch s = {.vents = {.room = NULL}};
        if (!scratch_ready(&ctx->mem, &candidates->p->pose_set, &s))
            atomic_store(&stop, 2);
#pragma omp for schedule(dynamic, 8)
        for (size_t i = 0; i < count; i++) {
            if (vugi_thread_index() == 0 && i % 4 == 0 && !atomic_load(&stop)) {
                stepped = vugi_step(ctx, (double)i / (double)count);
                if (stepped)
                    atomic_store(&stop, 1);
            }
            if (!atomic_load(&stop) && !value_set(candidates, size, list + i, &s))
                atomic_store(&stop, 2);
        }
        scratch_free(&ctx->mem, &s);
    }
    return atomic_load(&stop) == 2 ? vugi_fail_memory(ctx) : stepped;
}

/* Of equals the first. */
static size_t take_best(const vugi_set *list, size_t count, vugi_set *best, size_t most)
{
    assert(most > 0);
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        size_t at = kept;
        while (at > 0 && best[at - 1].value > list[i].value)
            at--;
        if (at == most)
            continue;
        size_t last = kept < most ? kept++ : most - 1;
        memmove(best + at + 1, best + at, (last - at) * sizeof *best);
        best[at] = list[i];
        assert(at == 0 || best[at - 1].value <= best[at].value);
    }
    return kept;
}

vug_status vugi_sets_rank(vugi_candidates *candidates, vugi_site *base, size_t bases, size_t size,
    const vugi_set *smaller, vugi_set *best, size_t most, size_t *count, double *left)
{
    vug_context *ctx = candidates->p->ctx;
    *count = 0;
    *left = 0.0;
    vug_status status = vent_each(candidates, base, bases);
    if (status || size > candidates->count)
        return status;
    double total = sets_of(candidates->count, size);
    vugi_set *list = vugi_alloc(&ctx->mem, VUGI_SETS, sizeof *list);
    if (!list)
        return vugi_fail_memory(ctx);
    size_t sets = total <= VUGI_SETS ? list_all(list, candidates->count, size)
                                     : list_larger(list, candidates->count, size, smaller);
    status = value_sets(candidates, size, list, sets);
    if (!status)
        *count = take_best(list, sets, best, most);
    *left = total - (double)*count;
    vugi_free(&ctx->mem, list);
    return status;
}
