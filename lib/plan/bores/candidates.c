/* SPDX-License-Identifier: MIT
 * Candidates for bores: the domes of good poses. */
#include "plan/bores/candidates.h"

#include <math.h>
#include <string.h>

enum {
    LEAST_AIR = 8,
    FEWEST = 4,
    BUBBLES = 5
}; /* poses looked at for either reason; domes of each */

vug_status vugi_pool_open(vugi_planning *p, vugi_pool *pool)
{
    const vugi_allocator *mem = &p->ctx->mem;
    size_t poses = p->stances.count;
    *pool = (vugi_pool){.p = p};
    pool->list = vugi_alloc(mem, VUGI_CANDIDATES, sizeof *pool->list);
    pool->alone = vugi_calloc(mem, VUGI_CANDIDATES * poses, sizeof *pool->alone);
    pool->air = vugi_alloc(mem, poses, sizeof *pool->air);
    pool->order = vugi_alloc(mem, poses, sizeof *pool->order);
    return pool->list && pool->alone && pool->air && pool->order ? VUG_OK
                                                                 : vugi_fail_memory(p->ctx);
}

void vugi_pool_close(vugi_pool *pool)
{
    const vugi_allocator *mem = &pool->p->ctx->mem;
    for (size_t i = 0; pool->alone && i < VUGI_CANDIDATES * pool->p->stances.count; i++)
        vugi_vents_free(mem, pool->alone + i);
    vugi_free(mem, pool->list);
    vugi_free(mem, pool->alone);
    vugi_free(mem, pool->air);
    vugi_free(mem, pool->order);
}

/* ---- poses --------------------------------------------------------------------------- */

/* Poses by the air that a first fill leaves. */
static vug_status first_fills(vugi_pool *pool)
{
    const vugi_planning *p = pool->p;
    for (size_t i = 0; i < p->stances.count; i++) {
        vug_status status = vugi_stances_first(p->ctx, &p->stances, i, pool->air + i);
        if (status)
            return status;
        size_t at = i;
        for (; at > 0 && pool->air[pool->order[at - 1]] > pool->air[i]; at--)
            pool->order[at] = pool->order[at - 1];
        pool->order[at] = (uint32_t)i;
    }
    return VUG_OK;
}

static size_t largest_of(const vugi_bubble *bubble, size_t count)
{
    size_t largest = 0;
    for (size_t i = 1; i < count; i++)
        if (bubble[i].volume > bubble[largest].volume)
            largest = i;
    return largest;
}

/* The bubbles that a first fill leaves in a pose. */
static vug_status bubbles_of(const vugi_planning *p, size_t pose, vugi_bubble **bubble,
    size_t *count)
{
    const vugi_allocator *mem = &p->ctx->mem;
    const vugi_domes *domes = p->stances.domes + pose;
    const vugi_vents *vents = vugi_stances_filling(&p->stances, pose);
    vugi_air_room room = {.rising = NULL};
    vugi_air air = {.own = vugi_alloc(mem, domes->count, sizeof(double))};
    vug_status status = VUG_ERR_MEMORY;
    *bubble = NULL;
    *count = 0;
    if (air.own && vugi_air_room_ready(mem, domes, &room)) {
        vugi_air_first(domes, vents, &room, &air);
        status = vugi_air_bubbles(NULL, mem, domes, vents, air.own, bubble, count);
    }
    vugi_free(mem, air.own);
    vugi_air_room_free(mem, &room);
    return status ? vugi_fail_memory(p->ctx) : VUG_OK;
}

/* Vents that a pose needs: one for each bubble, largest first, until the rest may stay (Bose, van
 * Kreveld, Toussaint 1998, CAD 30(4):245: as many as the pose has closed local highs). */
static vug_status vents_needed(const vugi_pool *pool, size_t pose, size_t *needed)
{
    vugi_bubble *bubble;
    size_t count;
    double left = pool->air[pose];
    vug_status status = bubbles_of(pool->p, pose, &bubble, &count);
    *needed = 0;
    for (size_t k = 0; k < count && left > pool->p->limit; k++) {
        size_t i = largest_of(bubble, count);
        left -= bubble[i].volume;
        bubble[i].volume = 0.0;
        ++*needed;
    }
    vugi_free(&pool->p->ctx->mem, bubble);
    return status;
}

/* Moves the poses that need fewest vents to places LEAST_AIR and up of the order; of equals those with
 * less air first. */
static vug_status put_fewest_next(vugi_pool *pool)
{
    size_t poses = pool->p->stances.count, kept = 0, need[FEWEST];
    for (size_t i = LEAST_AIR; i < poses; i++) {
        size_t own, at = 0;
        uint32_t pose = pool->order[i];
        vug_status status = vents_needed(pool, pose, &own);
        if (status)
            return status;
        while (at < kept && need[at] <= own)
            at++;
        if (at == FEWEST)
            continue;
        size_t last = kept < FEWEST ? kept++ : FEWEST - 1;
        memmove(pool->order + LEAST_AIR + at + 1, pool->order + LEAST_AIR + at,
            (i - LEAST_AIR - at) * sizeof *pool->order);
        memmove(need + at + 1, need + at, (last - at) * sizeof *need);
        pool->order[LEAST_AIR + at] = pose;
        need[at] = own;
    }
    return VUG_OK;
}

/* ---- places ----------------------------------------------------------------------------- */

size_t vugi_points_under(const vugi_domes *d, const vugi_bubble *bubble, double *inside)
{
    const vugi_dome *dome = d->dome + bubble->dome;
    double high = dome->top - bubble->level, drop = fmin(0.3 * d->h, 0.25 * high);
    size_t count = 0, members = dome->last - dome->first;
    vugi_domes_point(d, dome->apex, dome->top - drop, inside + 3 * count++);
    double near_top = dome->top - fmax(0.5 * d->h, 0.04 * high);
    size_t step = members / 64 + 1;
    for (size_t i = 0; i < members && count < VUGI_POINTS; i += step) {
        uint32_t s = d->member[dome->first + i];
        if (s != dome->apex && d->hi[s] > near_top)
            vugi_domes_point(d, s, d->hi[s] - drop, inside + 3 * count++);
    }
    return count;
}

static bool looked_at(const vugi_pool *pool, const double top[3], const double up[3])
{
    double close = fmax(2.0 * pool->p->h, 0.02 * pool->p->size);
    for (size_t i = 0; i < pool->count; i++) {
        const vugi_candidate *c = pool->list + i;
        double d2 = 0.0, cosine = 0.0;
        for (int k = 0; k < 3; k++) {
            d2 += (c->top[k] - top[k]) * (c->top[k] - top[k]);
            cosine += c->up[k] * up[k];
        }
        if (d2 < close * close && cosine > 0.7)
            return true;
    }
    return false;
}

static vug_status add_candidate(vugi_pool *pool, size_t pose, const vugi_bubble *bubble)
{
    vugi_planning *p = pool->p;
    const vugi_domes *domes = p->stances.domes + pose;
    const vugi_dome *dome = domes->dome + bubble->dome;
    const double *up = p->stances.up + 3 * pose;
    double inside[3 * VUGI_POINTS], top[3];
    bool found;
    if (pool->count == VUGI_CANDIDATES)
        return VUG_OK;
    vugi_domes_point(domes, dome->apex, dome->top, top);
    if (looked_at(pool, top, up))
        return VUG_OK;
    vugi_candidate *c = pool->list + pool->count;
    size_t count = vugi_points_under(domes, bubble, inside);
    vug_status status = vugi_site_find(p->ctx, &p->skin, inside, count, domes->body[dome->apex], up,
        0.0, &c->site, &found);
    if (status || !found)
        return status;
    memcpy(c->top, top, sizeof c->top);
    memcpy(c->up, up, sizeof c->up);
    pool->count++;
    return VUG_OK;
}

/* The largest bubbles of a first fill in one pose. */
static vug_status look_at_pose(vugi_pool *pool, size_t pose)
{
    vugi_bubble *bubble;
    size_t count;
    vug_status status = bubbles_of(pool->p, pose, &bubble, &count);
    for (size_t k = 0; k < BUBBLES && k < count && !status; k++) {
        size_t i = largest_of(bubble, count);
        if (bubble[i].volume < 0.1 * pool->p->limit)
            break;
        status = add_candidate(pool, pose, bubble + i);
        bubble[i].volume = -1.0;
    }
    vugi_free(&pool->p->ctx->mem, bubble);
    return status;
}

vug_status vugi_pool_fill(vugi_pool *pool, vugi_site *site, size_t sites)
{
    vugi_planning *p = pool->p;
    vug_status status = vugi_plan_vent(p, site, sites);
    if (!status)
        status = first_fills(pool);
    if (!status)
        status = put_fewest_next(pool);
    if (!status && p->first != UINT32_MAX)
        status = look_at_pose(pool, p->first);
    for (size_t k = 0; k < LEAST_AIR + FEWEST && k < p->stances.count && !status; k++) {
        status = vugi_step(p->ctx, 0.0);
        if (!status)
            status = look_at_pose(pool, pool->order[k]);
    }
    return status;
}
