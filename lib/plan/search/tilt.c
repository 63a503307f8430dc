/* SPDX-License-Identifier: MIT
 * Breadth-first search over states: a pose, and the air in each of its nodes. */
#include "plan/search/tilt.h"

#include "base/vec.h"
#include "plan/cost.h"
#include "plan/search/way.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { MOST_PARCELS = 500 };

typedef struct state {
    uint32_t pose, parent;
    uint32_t turns, rank; /* rank: 0 has the least air of those kept for its pose and turns */
    double air, mark;     /* mark: tells where the air is */
    double effort;
    vugi_parcel *parcel;
    size_t parcels;
} state;

/* What one turn would come to, before it is worth keeping. */
typedef struct outcome {
    double air, mark;
} outcome;

typedef struct search {
    vug_context *ctx;
    const vugi_pose_set *s;
    const vugi_tilt_task *task;
    state *state;
    size_t count, capacity;
    uint32_t *kept; /* states of each pose, width * (max_turns + 1) places */
    uint32_t *kept_count;
    outcome *outcome; /* of frontier state f and pose j: [f * poses + j] */
    size_t outcome_capacity;
    uint32_t *frontier; /* states to turn on from, by rising air */
    size_t frontier_count, frontier_capacity;
    size_t most_nodes;
} search;

/* Weights that differ from node to node: the sum tells places apart. */
static double mark_of(const vugi_air *air, const vugi_airtree *d)
{
    double mark = 0.0;
    for (size_t i = 0; i < d->count; i++) {
        double w = 0.6180339887498949 * (double)(i + 1);
        mark += air->own[i] * (w - floor(w));
    }
    return mark;
}

double vugi_turn_effort(const vugi_pose_set *s, uint32_t from, uint32_t to)
{
    assert(from < s->count && to < s->count);
    if (from == to)
        return s->ease[to];
    const double *a = s->up + 3 * from, *b = s->up + 3 * to;
    double cosine = fmin(1.0, fmax(-1.0, vugi_dot(a, b)));
    return vugi_cost_turn(acos(cosine), s->ease[to]);
}

/* Air and its place after pose `to`, from a state or (from NULL) after a first fill. */
static bool after(const search *w, const state *from, uint32_t to, vugi_rests *rests,
    vugi_air_room *room, vugi_air *air)
{
    const vugi_airtree *d = w->s->tree + to;
    if (!from) {
        if (!vugi_air_room_ready(&w->ctx->mem, d, room))
            return false;
        if (w->task->start) {
            vugi_air_release(d, w->task->start->parcel, w->task->start->parcels, 0.0, room);
            vugi_air_settle(d, w->s->shut + to, room, air);
            return true;
        }
        vugi_air_first(d, vugi_pose_set_filling(w->s, to), room, air);
        return true;
    }
    const vugi_leaving leaving = {from->pose, from->parcel, from->parcels};
    const vugi_manner manner = {w->task->turn_step_deg, w->task->held};
    if (!vugi_way_arrive(&w->ctx->mem, w->s, manner, &leaving, to, rests, room, air))
        return false;
    vugi_air_settle(d, w->s->vents + to, room, air);
    return true;
}

/* What is inside already may need no turn: the openings are freed where it is held. */
static bool stays(const search *w, const state *from)
{
    return w->task->start && from->turns == 0;
}

/* Outcomes of all turns from the frontier (or of the first fills). */
static vug_status try_all(search *w, bool fill, double done, double more)
{
    size_t poses = w->s->count, total = fill ? poses : w->frontier_count * poses;
    atomic_size_t finished = 0;
    atomic_int stop = 0;
    vug_status stepped = VUG_OK;
    int threads = vugi_threads(w->ctx, total);
    (void)threads;
    if (!vugi_reserve(&w->ctx->mem, &w->outcome, &w->outcome_capacity, total, sizeof *w->outcome))
        return vugi_fail_memory(w->ctx);
#pragma omp parallel num_threads(threads)
    {
        vugi_air_room room = {.rising = NULL};
        vugi_rests rests = {.rest = NULL};
        vugi_air air = {.own = vugi_alloc(&w->ctx->mem, w->most_nodes, sizeof(double))};
        if (!air.own)
            atomic_store(&stop, 2);
#pragma omp for schedule(dynamic, 64)
        for (size_t i = 0; i < total; i++) {
            if (vugi_thread_index() == 0 && i % 16 == 0 && !atomic_load(&stop)) {
                stepped = vugi_step(w->ctx,
                    done + more * (double)atomic_load(&finished) / (double)total);
                if (stepped)
                    atomic_store(&stop, 1);
            }
            if (atomic_load(&stop))
                continue;
            uint32_t to = (uint32_t)(i % poses);
            const state *from = fill ? NULL : w->state + w->frontier[i / poses];
            w->outcome[i] = (outcome){INFINITY, 0.0};
            if (from && from->pose == to && !stays(w, from))
                continue;
            if (fill && w->task->first != UINT32_MAX && to != w->task->first)
                continue;
            if (!after(w, from, to, &rests, &room, &air))
                atomic_store(&stop, 2);
            w->outcome[i] = (outcome){air.total, room.stuck_mark + mark_of(&air, w->s->tree + to)};
            atomic_fetch_add(&finished, 1);
        }
        vugi_free(&w->ctx->mem, air.own);
        vugi_rests_free(&w->ctx->mem, &rests);
        vugi_air_room_free(&w->ctx->mem, &room);
    }
    if (atomic_load(&stop) == 2)
        return vugi_fail_memory(w->ctx);
    return stepped;
}

/* Has this pose been reached with the same air at the same place? */
static bool known(const search *w, uint32_t pose, outcome o)
{
    assert(pose < w->s->count);
    double same = w->task->same;
    const uint32_t *kept = w->kept + (size_t)pose * w->task->width * (w->task->max_turns + 1);
    for (uint32_t k = 0; k < w->kept_count[pose]; k++) {
        const state *s = w->state + kept[k];
        if (fabs(s->air - o.air) <= same && fabs(s->mark - o.mark) <= same)
            return true;
    }
    return false;
}

static bool keep(search *w, uint32_t pose, uint32_t rank, const state *from, uint32_t parent,
    outcome o)
{
    assert(w->kept_count[pose] < w->task->width * (w->task->max_turns + 1));
    assert(parent == UINT32_MAX || parent < w->count);
    size_t per_pose = (size_t)w->task->width * (w->task->max_turns + 1);
    state next = {.pose = pose,
        .parent = parent,
        .rank = rank,
        .air = o.air,
        .mark = o.mark,
        .turns = from ? from->turns + 1 : 0};
    next.effort = from ? from->effort + vugi_turn_effort(w->s, from->pose, pose) : w->s->ease[pose];
    if (!vugi_reserve(&w->ctx->mem, &w->state, &w->capacity, w->count + 1, sizeof *w->state))
        return false;
    w->kept[pose * per_pose + w->kept_count[pose]++] = (uint32_t)w->count;
    w->state[w->count++] = next;
    return true;
}

/* Keeps the width best outcomes of each pose that are not known yet. */
static vug_status select_states(search *w, bool fill)
{
    size_t poses = w->s->count, rows = fill ? 1 : w->frontier_count;
    for (uint32_t pose = 0; pose < poses; pose++) {
        vug_status status = pose % 8 == 0 ? vugi_step(w->ctx, 0.0) : VUG_OK;
        if (status)
            return status;
        for (uint32_t k = 0; k < w->task->width; k++) {
            size_t best = SIZE_MAX;
            for (size_t f = 0; f < rows; f++) {
                outcome o = w->outcome[f * poses + pose];
                if (o.air < INFINITY
                    && (best == SIZE_MAX || o.air < w->outcome[best * poses + pose].air)
                    && !known(w, pose, o))
                    best = f;
            }
            if (best == SIZE_MAX)
                break;
            state copy;
            if (!fill)
                copy = w->state[w->frontier[best]];
            if (!keep(w, pose, k, fill ? NULL : &copy, fill ? UINT32_MAX : w->frontier[best],
                    w->outcome[best * poses + pose]))
                return vugi_fail_memory(w->ctx);
        }
    }
    return VUG_OK;
}

/* The parcels of a state: of its air, and those that have not moved. */
static bool cut_up(const search *w, const state *from, state *s, const vugi_air *air)
{
    const vugi_allocator *mem = &w->ctx->mem;
    const vugi_vents *v = from ? w->s->vents + s->pose
        : w->task->start       ? w->s->shut + s->pose
                               : vugi_pose_set_filling(w->s, s->pose);
    return !vugi_air_parcels(NULL, mem, w->s->tree + s->pose, v, air->own, MOST_PARCELS, &s->parcel,
               &s->parcels)
        && (!from
            || vugi_air_keep(mem, from->parcel, from->parcels, w->task->held, &s->parcel,
                &s->parcels));
}

/* The air of the states just kept, cut into parcels. */
static vug_status fill_in(search *w, size_t first)
{
    assert(first <= w->count);
    atomic_int failed = 0;
    int threads = vugi_threads(w->ctx, w->count - first);
    (void)threads;
#pragma omp parallel num_threads(threads)
    {
        vugi_air_room room = {.rising = NULL};
        vugi_rests rests = {.rest = NULL};
        vugi_air air = {.own = vugi_alloc(&w->ctx->mem, w->most_nodes, sizeof(double))};
        if (!air.own)
            atomic_store(&failed, 1);
#pragma omp for schedule(dynamic, 4)
        for (size_t i = first; i < w->count; i++) {
            state *s = w->state + i;
            const state *from = s->parent == UINT32_MAX ? NULL : w->state + s->parent;
            if (atomic_load(&failed) || vugi_pulse(w->ctx, 0.0))
                continue;
            if (!air.own || !after(w, from, s->pose, &rests, &room, &air)
                || !cut_up(w, from, s, &air))
                atomic_store(&failed, 1);
        }
        vugi_free(&w->ctx->mem, air.own);
        vugi_rests_free(&w->ctx->mem, &rests);
        vugi_air_room_free(&w->ctx->mem, &room);
    }
    return atomic_load(&failed) ? vugi_fail_memory(w->ctx) : vugi_step(w->ctx, 0.0);
}

static bool before(const state *a, const state *b)
{
    return a->rank < b->rank || (a->rank == b->rank && a->air < b->air);
}

/* Of the states first and up the best of each pose are turned on from, then the second best ... */
static bool advance(search *w, size_t first)
{
    assert(first <= w->count);
    size_t count = w->count - first;
    if (!vugi_reserve(&w->ctx->mem, &w->frontier, &w->frontier_capacity, count + 1,
            sizeof *w->frontier))
        return false;
    for (size_t i = 0; i < count; i++) {
        size_t at = i;
        for (; at > 0 && before(w->state + first + i, w->state + w->frontier[at - 1]); at--)
            w->frontier[at] = w->frontier[at - 1];
        w->frontier[at] = (uint32_t)(first + i);
    }
    for (size_t i = 1; i < count; i++)
        assert(!before(w->state + w->frontier[i], w->state + w->frontier[i - 1]));
    w->frontier_count = count < w->task->frontier ? count : w->task->frontier;
    return true;
}

static void write_tilt(const search *w, size_t index, vugi_tilt *tilt)
{
    assert(index < w->count);
    assert(w->state[index].turns <= VUGI_MAX_TURNS);
    const state *s = w->state + index;
    tilt->turns = s->turns;
    tilt->effort = s->effort;
    for (uint32_t at = (uint32_t)index; at != UINT32_MAX; at = w->state[at].parent) {
        tilt->pose[w->state[at].turns] = w->state[at].pose;
        tilt->air[w->state[at].turns] = w->state[at].air;
    }
}

/* The best of states first and up: within the limit the least effort, else the least air. */
static size_t best_state(const search *w, size_t first, bool *within)
{
    size_t best = SIZE_MAX;
    *within = false;
    for (size_t i = first; i < w->count; i++) {
        const state *s = w->state + i, *b = best == SIZE_MAX ? NULL : w->state + best;
        bool good = s->air <= w->task->limit;
        if (w->task->last != UINT32_MAX && s->pose != w->task->last)
            continue;
        if (!b || (good && !*within)
            || (good == *within && (good ? s->effort < b->effort : s->air < b->air)))
            best = i;
        *within |= good;
    }
    return best;
}

static vug_status run(search *w, vugi_tilt *best, size_t *best_count)
{
    double share = 1.0 / (w->task->max_turns + 1.0);
    *best_count = 0;
    for (uint32_t turns = 0; turns <= w->task->max_turns; turns++) {
        bool fill = turns == 0, within;
        vug_status status = try_all(w, fill, turns * share, share);
        if (status)
            return status;
        size_t next = w->count;
        status = select_states(w, fill);
        if (!status)
            status = fill_in(w, next);
        if (status)
            return status;
        size_t found = best_state(w, next, &within);
        if (found != SIZE_MAX)
            write_tilt(w, found, best + (*best_count)++);
        if (within || next == w->count)
            break;
        if (!advance(w, next))
            return vugi_fail_memory(w->ctx);
    }
    return vugi_step(w->ctx, 1.0);
}

vug_status vugi_tilt_search(vug_context *ctx, const vugi_pose_set *s, const vugi_tilt_task *task,
    vugi_tilt *best, size_t *best_count)
{
    assert(task->max_turns <= VUGI_MAX_TURNS);
    search w = {.ctx = ctx, .s = s, .task = task};
    vug_status status;
    for (size_t i = 0; i < s->count; i++)
        if (s->tree[i].count > w.most_nodes)
            w.most_nodes = s->tree[i].count;
    w.kept = vugi_alloc(&ctx->mem, s->count * task->width * (task->max_turns + 1), sizeof *w.kept);
    w.kept_count = vugi_calloc(&ctx->mem, s->count, sizeof *w.kept_count);
    status = w.kept && w.kept_count ? run(&w, best, best_count) : vugi_fail_memory(ctx);
    for (size_t i = 0; i < w.count; i++)
        vugi_free(&ctx->mem, w.state[i].parcel);
    vugi_free(&ctx->mem, w.state);
    vugi_free(&ctx->mem, w.kept);
    vugi_free(&ctx->mem, w.kept_count);
    vugi_free(&ctx->mem, w.outcome);
    vugi_free(&ctx->mem, w.frontier);
    return status;
}
