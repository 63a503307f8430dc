/* SPDX-License-Identifier: MIT
 * Candidates for bores: the nodes of good poses. */
#include "plan/bores/candidates.h"

#include "plan/bores/width.h"
#include "plan/search/alternatives.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum {
    LEAST_AIR = 8,
    FEWEST = 4,
    BUBBLES = 5
}; /* poses looked at for either reason; nodes of each */

/* Where what is inside rises to in each pose. */
static bool rise_all(vugi_candidates *candidates)
{
    const vugi_planning *p = candidates->p;
    const vugi_allocator *mem = &p->ctx->mem;
    const vugi_pose_set *s = &p->pose_set;
    size_t nodes = 0;
    if (!p->start.given)
        return true;
    candidates->rising_at = vugi_alloc(mem, s->count, sizeof *candidates->rising_at);
    for (size_t i = 0; i < s->count && candidates->rising_at; i++) {
        candidates->rising_at[i] = nodes;
        nodes += s->tree[i].count;
    }
    candidates->rising = vugi_alloc(mem, nodes, sizeof *candidates->rising);
    vugi_air_room room = {.rising = NULL};
    bool good = candidates->rising_at && candidates->rising;
    for (size_t i = 0; i < s->count && good; i++) {
        good = vugi_air_room_ready(mem, s->tree + i, &room);
        if (!good)
            break;
        vugi_air_release(s->tree + i, p->start.parcel, p->start.parcels, 0.0, &room);
        memcpy(candidates->rising + candidates->rising_at[i], room.rising,
            s->tree[i].count * sizeof *room.rising);
    }
    vugi_air_room_free(mem, &room);
    return good;
}

bool vugi_candidates_air(const vugi_candidates *candidates, size_t pose, const vugi_vents *vents,
    vugi_air_room *room, vugi_air *air)
{
    const vugi_planning *p = candidates->p;
    const vugi_airtree *tree = p->pose_set.tree + pose;
    if (!vugi_air_room_ready(&p->ctx->mem, tree, room))
        return false;
    if (!candidates->rising) {
        vugi_air_first(tree, vents, room, air);
        return true;
    }
    memcpy(room->rising, candidates->rising + candidates->rising_at[pose],
        tree->count * sizeof *room->rising);
    vugi_air_settle(tree, vents, room, air);
    return true;
}

const vugi_vents *vugi_candidates_vents(const vugi_candidates *candidates, size_t pose)
{
    const vugi_pose_set *s = &candidates->p->pose_set;
    return candidates->rising ? s->vents + pose : vugi_pose_set_filling(s, pose);
}

vug_status vugi_candidates_open(vugi_planning *p, vugi_candidates *candidates)
{
    const vugi_allocator *mem = &p->ctx->mem;
    size_t poses = p->pose_set.count;
    *candidates = (vugi_candidates){.p = p};
    candidates->list = vugi_alloc(mem, VUGI_CANDIDATES, sizeof *candidates->list);
    candidates->alone = vugi_calloc(mem, VUGI_CANDIDATES * poses, sizeof *candidates->alone);
    candidates->air = vugi_alloc(mem, poses, sizeof *candidates->air);
    candidates->order = vugi_alloc(mem, poses, sizeof *candidates->order);
    return candidates->list && candidates->alone && candidates->air && candidates->order
            && rise_all(candidates)
        ? VUG_OK
        : vugi_fail_memory(p->ctx);
}

void vugi_candidates_close(vugi_candidates *candidates)
{
    const vugi_allocator *mem = &candidates->p->ctx->mem;
    for (size_t i = 0; candidates->alone && i < VUGI_CANDIDATES * candidates->p->pose_set.count;
         i++)
        vugi_vents_free(mem, candidates->alone + i);
    vugi_free(mem, candidates->list);
    vugi_free(mem, candidates->alone);
    vugi_free(mem, candidates->air);
    vugi_free(mem, candidates->order);
    vugi_free(mem, candidates->rising);
    vugi_free(mem, candidates->rising_at);
}

/* ---- poses --------------------------------------------------------------------------- */

/* Air that is left in a pose with the vents there are. */
static vug_status air_left(const vugi_candidates *candidates, size_t pose, double *left)
{
    const vugi_planning *p = candidates->p;
    const vugi_allocator *mem = &p->ctx->mem;
    vugi_air_room room = {.rising = NULL};
    vugi_air air = {.own = vugi_alloc(mem, p->pose_set.tree[pose].count, sizeof(double))};
    bool good = air.own
        && vugi_candidates_air(candidates, pose, vugi_candidates_vents(candidates, pose), &room,
            &air);
    *left = air.total;
    vugi_free(mem, air.own);
    vugi_air_room_free(mem, &room);
    return good ? VUG_OK : vugi_fail_memory(p->ctx);
}

/* Poses by the air that is left in them. */
static vug_status first_fills(vugi_candidates *candidates)
{
    const vugi_planning *p = candidates->p;
    for (size_t i = 0; i < p->pose_set.count; i++) {
        vug_status status = air_left(candidates, i, candidates->air + i);
        if (status)
            return status;
        size_t at = i;
        for (; at > 0 && candidates->air[candidates->order[at - 1]] > candidates->air[i]; at--)
            candidates->order[at] = candidates->order[at - 1];
        candidates->order[at] = (uint32_t)i;
    }
    return VUG_OK;
}

static size_t largest_of(const vugi_bubble *bubble, size_t count)
{
    assert(count > 0);
    size_t largest = 0;
    for (size_t i = 1; i < count; i++)
        if (bubble[i].volume > bubble[largest].volume)
            largest = i;
    return largest;
}

/* The bubbles that are left in a pose. */
static vug_status bubbles_of(const vugi_candidates *candidates, size_t pose, vugi_bubble **bubble,
    size_t *count)
{
    const vugi_planning *p = candidates->p;
    assert(pose < p->pose_set.count);
    const vugi_allocator *mem = &p->ctx->mem;
    const vugi_airtree *tree = p->pose_set.tree + pose;
    const vugi_vents *vents = vugi_candidates_vents(candidates, pose);
    vugi_air_room room = {.rising = NULL};
    vugi_air air = {.own = vugi_alloc(mem, tree->count, sizeof(double))};
    vug_status status = VUG_ERR_MEMORY;
    *bubble = NULL;
    *count = 0;
    if (air.own && vugi_candidates_air(candidates, pose, vents, &room, &air)) {
        status = vugi_air_bubbles(NULL, mem, tree, vents, air.own, bubble, count);
        for (size_t i = 0; i < *count && !status; i++)
            if (!p->reached[tree->body[tree->node[(*bubble)[i].node].apex]])
                (*bubble)[i].volume = 0.0; /* nobody asked for that */
    }
    vugi_free(mem, air.own);
    vugi_air_room_free(mem, &room);
    return status ? vugi_fail_memory(p->ctx) : VUG_OK;
}

/* Vents that a pose needs: one for each bubble, largest first, until the rest may stay (Bose, van
 * Kreveld, Toussaint 1998, CAD 30(4):245: as many as the pose has closed local highs). */
static vug_status vents_needed(const vugi_candidates *candidates, size_t pose, size_t *needed)
{
    assert(pose < candidates->p->pose_set.count);
    vugi_bubble *bubble;
    size_t count;
    double left = candidates->air[pose];
    vug_status status = bubbles_of(candidates, pose, &bubble, &count);
    *needed = 0;
    for (size_t k = 0; k < count && left > candidates->p->limit; k++) {
        size_t i = largest_of(bubble, count);
        left -= bubble[i].volume;
        bubble[i].volume = 0.0;
        ++*needed;
    }
    vugi_free(&candidates->p->ctx->mem, bubble);
    return status;
}

/* Moves the poses that need fewest vents to places LEAST_AIR and up of the order; of equals those with
 * less air first. */
static vug_status put_fewest_next(vugi_candidates *candidates)
{
    size_t poses = candidates->p->pose_set.count, kept = 0, need[FEWEST];
    for (size_t i = LEAST_AIR; i < poses; i++) {
        size_t own, at = 0;
        uint32_t pose = candidates->order[i];
        vug_status status = vents_needed(candidates, pose, &own);
        if (status)
            return status;
        while (at < kept && need[at] <= own)
            at++;
        if (at == FEWEST)
            continue;
        size_t last = kept < FEWEST ? kept++ : FEWEST - 1;
        memmove(candidates->order + LEAST_AIR + at + 1, candidates->order + LEAST_AIR + at,
            (i - LEAST_AIR - at) * sizeof *candidates->order);
        memmove(need + at + 1, need + at, (last - at) * sizeof *need);
        candidates->order[LEAST_AIR + at] = pose;
        need[at] = own;
    }
    return VUG_OK;
}

/* ---- places ----------------------------------------------------------------------------- */

size_t vugi_points_under(const vugi_airtree *d, const vugi_bubble *bubble, double *inside)
{
    const vugi_airnode *node = d->node + bubble->node;
    double high = node->top - bubble->level, drop = fmin(0.3 * d->h, 0.25 * high);
    size_t count = 0, members = node->last - node->first;
    vugi_airtree_point(d, node->apex, node->top - drop, inside + 3 * count++);
    double near_top = node->top - fmax(0.5 * d->h, 0.04 * high);
    size_t step = members / 64 + 1;
    for (size_t i = 0; i < members && count < VUGI_POINTS; i += step) {
        uint32_t s = d->member[node->first + i];
        if (s != node->apex && d->ends[s].hi > near_top)
            vugi_airtree_point(d, s, d->ends[s].hi - drop, inside + 3 * count++);
    }
    return count;
}

static bool looked_at(const vugi_candidates *candidates, const double top[3], const double up[3])
{
    double close = fmax(2.0 * candidates->p->h, 0.02 * candidates->p->size);
    for (size_t i = 0; i < candidates->count; i++) {
        const vugi_vent_candidate *c = candidates->list + i;
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

/* A vent; where nothing leads into the cavity yet, its first opening: paint goes in by it, and resin out. */
static vugi_width width_in(const vugi_candidates *candidates, int32_t cavity)
{
    const vugi_planning *p = candidates->p;
    const vugi_width vent = {0.0, 0.0};
    for (size_t i = 0; i < candidates->bases; i++)
        if (candidates->base[i].cavity == cavity)
            return vent;
    for (size_t i = 0; i < p->cavities->opening_count; i++)
        if (p->cavities->opening[i].cavity == cavity && !p->closed[i])
            return vent;
    return vugi_inlet_width(p, (size_t)cavity);
}

static vug_status add_candidate(vugi_candidates *candidates, size_t pose, const vugi_bubble *bubble)
{
    vugi_planning *p = candidates->p;
    const vugi_airtree *tree = p->pose_set.tree + pose;
    const vugi_airnode *node = tree->node + bubble->node;
    const double *up = p->pose_set.up + 3 * pose;
    const int32_t cavity = tree->body[node->apex];
    const vugi_width width = width_in(candidates, cavity);
    double inside[3 * VUGI_POINTS], top[3];
    bool found;
    if (candidates->count == VUGI_CANDIDATES)
        return VUG_OK;
    vugi_airtree_point(tree, node->apex, node->top, top);
    if (looked_at(candidates, top, up))
        return VUG_OK;
    vugi_vent_candidate *c = candidates->list + candidates->count;
    size_t count = vugi_points_under(tree, bubble, inside);
    vug_status status = vugi_site_find(p->ctx, &p->skin, inside, count, cavity, up, &width,
        &c->site, &found);
    if (status || !found)
        return status;
    memcpy(c->top, top, sizeof c->top);
    memcpy(c->up, up, sizeof c->up);
    candidates->count++;
    return VUG_OK;
}

/* The largest bubbles of a first fill in one pose. */
static vug_status look_at_pose(vugi_candidates *candidates, size_t pose)
{
    assert(pose < candidates->p->pose_set.count);
    vugi_bubble *bubble;
    size_t count;
    vug_status status = bubbles_of(candidates, pose, &bubble, &count);
    for (size_t k = 0; k < BUBBLES && k < count && !status; k++) {
        size_t i = largest_of(bubble, count);
        if (bubble[i].volume < 0.1 * (candidates->p->limit - candidates->p->sealed))
            break;
        status = add_candidate(candidates, pose, bubble + i);
        bubble[i].volume = -1.0;
    }
    vugi_free(&candidates->p->ctx->mem, bubble);
    return status;
}

vug_status vugi_candidates_fill(vugi_candidates *candidates, vugi_site *site, size_t sites)
{
    vugi_planning *p = candidates->p;
    vug_status status = vugi_plan_vent(p, site, sites);
    candidates->base = site;
    candidates->bases = sites;
    if (!status)
        status = first_fills(candidates);
    if (!status)
        status = put_fewest_next(candidates);
    if (!status && p->first != UINT32_MAX)
        status = look_at_pose(candidates, p->first);
    for (size_t k = 0; k < LEAST_AIR + FEWEST && k < p->pose_set.count && !status; k++) {
        status = vugi_step(p->ctx, 0.0);
        if (!status)
            status = look_at_pose(candidates, candidates->order[k]);
    }
    return status;
}
