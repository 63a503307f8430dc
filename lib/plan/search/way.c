/* SPDX-License-Identifier: MIT
 * Air on the way of a turn. */
#include "plan/search/way.h"

#include "base/vec.h"
#include "pose/rotation.h"

#include <assert.h>
#include <math.h>

enum { WAY_PARCELS = 150 };

typedef struct walk {
    const vugi_allocator *mem;
    const vugi_pose_set *s;
    vugi_manner manner;
    vugi_rests *rests;
    vugi_air_room *room;
    vugi_air *air;
} walk;

/* The candidate pose nearest to up. */
static uint32_t nearest(const vugi_pose_set *s, const double up[3])
{
    uint32_t best = 0;
    double most = -2.0;
    for (uint32_t i = 0; i < s->count; i++) {
        const double *u = s->up + 3 * (size_t)i;
        double cosine = vugi_dot(u, up);
        if (cosine > most) {
            most = cosine;
            best = i;
        }
    }
    return best;
}

void vugi_rests_free(const vugi_allocator *mem, vugi_rests *r)
{
    for (size_t i = 0; i < r->count; i++)
        vugi_free(mem, r->rest[i].parcel);
    vugi_free(mem, r->rest);
    *r = (vugi_rests){.rest = NULL};
}

/* Lets parcels come to rest in a pose on the way. */
static bool rest_on_the_way(const walk *w, const vugi_leaving *from, vugi_rest *rest)
{
    assert(rest->pose < w->s->count);
    const vugi_airtree *d = w->s->tree + rest->pose;
    const vugi_vents *shut = w->s->shut + rest->pose;
    if (!vugi_air_room_ready(w->mem, d, w->room))
        return false;
    vugi_air_release(d, from->parcel, from->count, w->manner.held, w->room);
    vugi_air_settle(d, shut, w->room, w->air);
    return !vugi_air_parcels(NULL, w->mem, d, shut, w->air->own, WAY_PARCELS, &rest->parcel,
               &rest->count)
        && vugi_air_keep(w->mem, from->parcel, from->count, w->manner.held, &rest->parcel,
            &rest->count);
}

/* What rests in a pose after rest number *at, which becomes the number of it. */
static bool go_on(const walk *w, uint32_t pose, uint32_t *at)
{
    vugi_rests *r = w->rests;
    for (size_t i = 0; i < r->count; i++)
        if (r->rest[i].before == *at && r->rest[i].pose == pose) {
            *at = (uint32_t)i;
            return true;
        }
    if (!vugi_reserve(w->mem, &r->rest, &r->capacity, r->count + 1, sizeof *r->rest))
        return false;
    const vugi_rest *before = *at == UINT32_MAX ? NULL : r->rest + *at;
    const vugi_leaving from = before ? (vugi_leaving){before->pose, before->parcel, before->count}
                                     : r->from;
    vugi_rest *own = r->rest + r->count;
    *own = (vugi_rest){.before = *at, .pose = pose};
    *at = (uint32_t)r->count++;
    return rest_on_the_way(w, &from, own);
}

static bool same(const vugi_leaving *a, const vugi_leaving *b)
{
    return a->pose == b->pose && a->parcel == b->parcel && a->count == b->count;
}

bool vugi_way_arrive(const vugi_allocator *mem, const vugi_pose_set *set, vugi_manner manner,
    const vugi_leaving *from, uint32_t to, vugi_rests *rests, vugi_air_room *room, vugi_air *air)
{
    assert(to < set->count);
    const walk w = {mem, set, manner, rests, room, air};
    const double *a = set->up + 3 * (size_t)from->pose;
    uint32_t last = from->pose, at = UINT32_MAX;
    double axis[3], angle, up[3];
    bool good = true;
    if (!same(&rests->from, from))
        vugi_rests_free(mem, rests);
    rests->from = *from;
    if (manner.step_deg > 0.0) {
        vugi_rotation_between(a, set->up + 3 * (size_t)to, axis, &angle);
        int parts = (int)ceil(angle / manner.step_deg);
        for (int k = 1; k < parts && good; k++) {
            vugi_rotation_up(a, axis, angle * k / parts, up);
            uint32_t pose = nearest(set, up);
            if (pose == last || pose == to)
                continue;
            good = go_on(&w, pose, &at);
            last = pose;
        }
    }
    if (!good || !vugi_air_room_ready(mem, set->tree + to, room))
        return false;
    const vugi_parcel *parcel = at == UINT32_MAX ? from->parcel : rests->rest[at].parcel;
    size_t count = at == UINT32_MAX ? from->count : rests->rest[at].count;
    vugi_air_release(set->tree + to, parcel, count, manner.held, room);
    return true;
}
