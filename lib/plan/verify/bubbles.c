/* SPDX-License-Identifier: MIT */
#include "plan/verify/bubbles.h"

#include "airtree/air.h"
#include "airtree/barrier_passage.h"
#include "airtree/pose_set.h"
#include "column/pose.h"
#include "pose/rotation.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* ---- the poses on the way --------------------------------------------------------- */

typedef struct route {
    double *up;
    size_t *step; /* of each pose: number of the step it ends, or SIZE_MAX on the way */
    size_t count, up_capacity, step_capacity;
} route;

static bool add_pose(const vugi_allocator *mem, route *r, const double up[3], size_t step)
{
    if (!vugi_reserve(mem, &r->up, &r->up_capacity, 3 * (r->count + 1), sizeof *r->up)
        || !vugi_reserve(mem, &r->step, &r->step_capacity, r->count + 1, sizeof *r->step))
        return false;
    memcpy(r->up + 3 * r->count, up, 3 * sizeof *up);
    r->step[r->count++] = step;
    return true;
}

static bool lay_route(const vugi_allocator *mem, const vugi_bubbles_task *task, route *r)
{
    for (size_t i = 0; i < task->steps; i++) {
        const double *to = task->up + 3 * i;
        if (i > 0 && task->turn_step_deg > 0.0) {
            double axis[3], angle, up[3];
            vugi_rotation_between(to - 3, to, axis, &angle);
            int parts = (int)ceil(angle / task->turn_step_deg);
            for (int k = 1; k < parts; k++) {
                vugi_rotation_up(to - 3, axis, angle * k / parts, up);
                if (!add_pose(mem, r, up, SIZE_MAX))
                    return false;
            }
        }
        if (!add_pose(mem, r, to, i))
            return false;
    }
    return true;
}

/* ---- playing ------------------------------------------------------------------------ */

typedef struct play {
    vug_context *ctx;
    const route *r;
    vugi_pose_set *s;
    double held;
    const vugi_start *start;
    vugi_air_room room;
    vugi_air air;
    vugi_parcel *parcel; /* air before the next pose */
    size_t parcels;
    vugi_parcel *rest; /* air at rest after the last step */
    size_t rests;
    double bubble; /* smallest that counted then */
    double *by_cavity;
    size_t cavities;
} play;

/* The longest way that air of the last step has to the top it rises to in this pose. */
static double longest_way(const play *p, const vugi_airtree *d)
{
    double longest = 0.0;
    for (size_t i = 0; i < p->rests; i++) {
        double at[3] = {p->rest[i].at[0], p->rest[i].at[1], p->rest[i].at[2]}, pose[3], top[3];
        if (p->rest[i].bubble < p->held)
            continue;
        vugi_to_pose(d->basis, at, pose);
        uint32_t span = vugi_airtree_span(d, pose, p->rest[i].body);
        if (span == VUGI_NO_AIRNODE)
            continue;
        const vugi_airnode *node = d->node + d->leaf[span];
        vugi_airtree_point(d, node->apex, node->top, top);
        double way = 0.0;
        for (int k = 0; k < 3; k++)
            way += (top[k] - at[k]) * (top[k] - at[k]);
        longest = fmax(longest, sqrt(way));
    }
    return longest;
}

static const vugi_vents *vents_of(const play *p, size_t pose)
{
    return pose == 0 && !p->start ? vugi_pose_set_filling(p->s, 0) : p->s->vents + pose;
}

/* Volume of the smallest bubble that holds 2 % of all air or more. */
static vug_status smallest_bubble(play *p, size_t pose)
{
    vugi_bubble *bubble;
    size_t count;
    vug_status status = vugi_air_bubbles(p->ctx, &p->ctx->mem, p->s->tree + pose, vents_of(p, pose),
        p->air.own, &bubble, &count);
    if (status)
        return status;
    p->bubble = p->air.total;
    for (size_t i = 0; i < count; i++)
        if (bubble[i].volume > 0.02 * p->air.total)
            p->bubble = fmin(p->bubble, bubble[i].volume);
    vugi_free(&p->ctx->mem, bubble);
    return VUG_OK;
}

/* A step has ended in this pose. */
static vug_status end_step(play *p, size_t pose, vugi_bubbles_step *step)
{
    assert(pose < p->s->count);
    const vugi_allocator *mem = &p->ctx->mem;
    *step = (vugi_bubbles_step){.trapped = p->air.total,
        .bubble = p->bubble,
        .travel = longest_way(p, p->s->tree + pose)};
    vugi_free(mem, p->rest);
    p->rests = 0;
    p->rest = vugi_alloc(mem, p->parcels, sizeof *p->rest);
    if (!p->rest)
        return vugi_fail_memory(p->ctx);
    if (p->parcels > 0)
        memcpy(p->rest, p->parcel, p->parcels * sizeof *p->rest);
    p->rests = p->parcels;
    return smallest_bubble(p, pose);
}

static vug_status play_pose(play *p, size_t pose, vugi_bubbles_step *step)
{
    const vugi_allocator *mem = &p->ctx->mem;
    const vugi_airtree *d = p->s->tree + pose;
    const vugi_vents *v = vents_of(p, pose);
    vugi_parcel *next = NULL;
    size_t nexts = 0;
    vugi_free(mem, p->air.own);
    p->air.own = vugi_alloc(mem, d->count, sizeof *p->air.own);
    if (!p->air.own || !vugi_air_room_ready(mem, d, &p->room))
        return vugi_fail_memory(p->ctx);
    if (pose == 0 && p->start) {
        vugi_air_release(d, p->start->parcel, p->start->parcels, 0.0, &p->room);
        vugi_air_settle(d, v, &p->room, &p->air);
    } else if (pose == 0) {
        vugi_air_first(d, v, &p->room, &p->air);
    } else {
        vugi_air_release(d, p->parcel, p->parcels, p->held, &p->room);
        vugi_air_settle(d, v, &p->room, &p->air);
    }
    vug_status status = vugi_air_parcels(p->ctx, mem, d, v, p->air.own, 20000, &next, &nexts);
    if (!status && !vugi_air_keep(mem, p->parcel, p->parcels, p->held, &next, &nexts))
        status = vugi_fail_memory(p->ctx);
    vugi_free(mem, p->parcel);
    p->parcel = next;
    p->parcels = nexts;
    if (status || p->r->step[pose] == SIZE_MAX)
        return status;
    size_t k = p->r->step[pose], cavities = p->cavities;
    for (size_t i = 0; i < p->parcels && p->by_cavity; i++)
        p->by_cavity[k * cavities + (size_t)p->parcel[i].body] += p->parcel[i].volume;
    return end_step(p, pose, step + k);
}

/* Openings are open in the poses that end a step, covered on the way. */
static vug_status set_vents(vug_context *ctx, const vugi_bubbles_task *task, const route *r,
    vugi_pose_set *s)
{
    const vug_cavities *c = task->cavities;
    vug_status status = VUG_OK;
    const vugi_opening **opening = vugi_alloc(&ctx->mem, c->opening_count, sizeof *opening);
    if (!opening)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < c->opening_count; i++)
        opening[i] = c->opening + i;
    for (size_t i = 0; i < s->count && !status; i++) {
        bool shut = r->step[i] == SIZE_MAX || (i == 0 && task->start);
        size_t count = shut ? 0 : c->opening_count;
        status = vugi_vents_build(ctx, &ctx->mem, s->tree + i, opening, task->closed, count, count,
            s->vents + i);
        if (!status && i == 0 && !task->start && task->barriers->count > 0)
            status = vugi_vents_filling(ctx, &ctx->mem, s->tree, s->vents, task->barriers,
                s->filling);
    }
    vugi_free(&ctx->mem, opening);
    return status;
}

/* What is less than a ten-thousandth of the room does not count. */
bool vugi_holds_back(const vugi_barriers *barriers, double held, double room)
{
    return barriers->count > 0 || held > 1e-4 * room;
}

vug_status vugi_bubbles_run(vug_context *ctx, const vugi_bubbles_task *task,
    vugi_bubbles_step *step, double *capacity)
{
    route r = {.count = 0};
    vugi_pose_set s = {.count = 0};
    play p = {.ctx = ctx,
        .r = &r,
        .s = &s,
        .held = task->held,
        .start = task->start,
        .by_cavity = task->by_cavity,
        .cavities = task->cavities->cavity_count};
    vug_status status = lay_route(&ctx->mem, task, &r) ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_pose_set_build(ctx, task->cavities, task->barriers, r.up, NULL, r.count,
            task->h, &s);
    if (!status)
        status = set_vents(ctx, task, &r, &s);
    for (size_t i = 0; i < r.count && !status; i++) {
        status = vugi_step(ctx, 1.0);
        if (!status)
            status = play_pose(&p, i, step);
    }
    *capacity = s.capacity;
    vugi_free(&ctx->mem, p.air.own);
    vugi_free(&ctx->mem, p.parcel);
    vugi_free(&ctx->mem, p.rest);
    vugi_air_room_free(&ctx->mem, &p.room);
    vugi_pose_set_free(&ctx->mem, &s);
    vugi_free(&ctx->mem, r.up);
    vugi_free(&ctx->mem, r.step);
    return status;
}
