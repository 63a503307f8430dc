/* SPDX-License-Identifier: MIT
 * The same steps done a little differently. */
#include "plan/verify/sample.h"

#include "base/angle.h"
#include "base/context_types.h"
#include "base/threads.h"
#include "cavity/extend.h"
#include "column/pose.h"
#include "plan/barriers.h"
#include "pose/rotation.h"

#include <assert.h>
#include <math.h>
#include <string.h>

const double vugi_pace_deg[VUGI_PACES] = {0.0, 30.0, 10.0};

typedef vugi_verification scene;

/* With what the steps are done. */
typedef struct means {
    const vug_cavities *cavities; /* with holes so wide */
    const vugi_barriers *barriers;
    double held;
} means;

typedef struct variant {
    double up[3 * (VUG_MAX_TURNS + 1)];
    double stop_deg;
    means with;
    vugi_stand
        *from; /* of each cavity, and then after the steps to keep; NULL: from the beginning */
    size_t keep;
    double enough;
} variant;

/* What came of one. */
typedef struct result {
    double left;
    bool whole; /* else that is the most */
} result;

static means as_told(const scene *s)
{
    return (means){s->o->cavities, &s->p->barriers, s->p->held};
}

/* ---- one of them ------------------------------------------------------------------------ */

/* The moves with other poses and another pace; the rest is shared, so only the way is to be freed. */
static bool vary(const vugi_allocator *mem, const scene *s, const variant *v, vugi_move *move)
{
    for (size_t k = 0; k < s->steps; k++) {
        move[k] = s->move[k];
        move[k].way = NULL;
        move[k].ways = 0;
        memcpy(move[k].up, v->up + 3 * k, sizeof move[k].up);
    }
    return vugi_moves_pace(mem, move, s->steps, v->stop_deg);
}

/* What throats and the fluid hold back in the cavities that are filled, the fill does not know: then the bubbles are played
 * too. */
static vug_status play_bubbles(vug_context *ctx, const scene *s, const variant *v,
    const vugi_replay *task, double *left_in)
{
    const size_t cavities = v->with.cavities->cavity_count;
    vugi_bubbles_step step[VUG_MAX_TURNS + 1];
    double capacity, *by = vugi_calloc(&ctx->mem, s->steps * cavities, sizeof *by);
    vugi_bubbles_task bubbles = {.cavities = v->with.cavities,
        .closed = s->closed,
        .barriers = v->with.barriers,
        .held = v->with.held,
        .up = v->up,
        .steps = s->steps,
        .h = task->h,
        .turn_step_deg = v->stop_deg,
        .start = task->start,
        .by_cavity = by};
    vug_status status = by ? vugi_bubbles_run(ctx, &bubbles, step, &capacity) : VUG_ERR_MEMORY;
    for (size_t i = 0; i < cavities && !status; i++)
        if (vugi_replay_reached(task, i))
            left_in[i] = fmax(left_in[i], by[(s->steps - 1) * cavities + i] * s->scale);
    vugi_free(&ctx->mem, by);
    return status;
}

static void begin(vugi_stand *stand, size_t count)
{
    for (size_t i = 0; i < count; i++)
        stand[i] = (vugi_stand){.left = INFINITY};
}

static void forget(const vugi_allocator *mem, vugi_stand *stand, size_t count)
{
    for (size_t i = 0; stand && i < count; i++)
        vug_moment_free(stand[i].now);
    vugi_free(mem, stand);
}

/* left_in: of each cavity. */
static vug_status play_steps(vug_context *ctx, const scene *s, const variant *v,
    const vugi_replay *task, const vugi_move *move, double *left_in, bool *whole)
{
    const size_t cavities = task->cavities->cavity_count;
    vugi_outcome outcome[VUG_MAX_TURNS + 1];
    vugi_stand *own = v->from ? NULL : vugi_alloc(&ctx->mem, cavities, sizeof *own);
    if (!v->from && !own)
        return VUG_ERR_MEMORY;
    if (own)
        begin(own, cavities);
    memset(outcome, 0, sizeof outcome);
    vug_status status = vugi_replay_fill_from(ctx, task, move, v->from ? v->keep : s->steps,
        s->steps, outcome, v->from ? v->from : own, left_in, whole);
    forget(&ctx->mem, own, cavities);
    return status;
}

static vug_status play_variant(vug_context *caller, const scene *s, const variant *v, double h,
    result *r)
{
    vug_context ctx = vugi_context_beside(caller);
    const vugi_allocator *mem = &ctx.mem;
    const size_t cavities = v->with.cavities->cavity_count;
    vugi_move move[VUG_MAX_TURNS + 1];
    const bool held = vugi_holds_back(v->with.barriers, v->with.held, s->o->info.capacity_mm3);
    vugi_replay task = {.cavities = v->with.cavities,
        .closed = s->closed,
        .fluid = &s->p->fluid,
        .h = h,
        .start = s->p->start.given ? &s->p->start : NULL,
        .brief = true,
        .plain = true,
        .enough = held ? 0.0 : v->enough};
    vug_status status = VUG_ERR_MEMORY;
    double *left_in = vugi_alloc(mem, cavities, sizeof *left_in);
    if (vary(mem, s, v, move) && left_in)
        status = play_steps(&ctx, s, v, &task, move, left_in, &r->whole);
    if (!status && held)
        status = play_bubbles(&ctx, s, v, &task, left_in);
    r->left = 0.0;
    for (size_t i = 0; i < cavities && !status; i++)
        r->left += left_in[i];
    vugi_free(mem, left_in);
    for (size_t k = 0; k < s->steps; k++)
        vugi_free(mem, move[k].way);
    return status;
}

/* ---- all of them ------------------------------------------------------------------------ */

/* For each degree. */
static double poses_on_way(const variant *v)
{
    return v->stop_deg > 0.0 ? 1.0 / v->stop_deg : 0.0;
}

/* The slowest pace, which has the most poses on its way, first: what comes last is soon done, and no thread waits long. */
static void slowest_first(const variant *list, size_t count, size_t *order)
{
    for (size_t i = 0; i < count; i++) {
        size_t at = i;
        for (; at > 0 && poses_on_way(list + i) > poses_on_way(list + order[at - 1]); at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
}

static vug_status play_all(vug_context *ctx, const scene *s, const variant *list, size_t count,
    double h, result *list_of)
{
    vug_status *verdict = vugi_calloc(&ctx->mem, count, sizeof *verdict);
    size_t order[VUG_PLAN_SAMPLES];
    int threads = vugi_threads(ctx, count);
    (void)threads;
    if (!verdict)
        return vugi_fail_memory(ctx);
    assert(count <= VUG_PLAN_SAMPLES);
    slowest_first(list, count, order);
#pragma omp parallel for schedule(dynamic, 1) num_threads(threads)
    for (size_t k = 0; k < count; k++) {
        const size_t i = order[k];
        if (!vugi_pulse(ctx, 0.9))
            verdict[i] = play_variant(ctx, s, list + i, h, list_of + i);
    }
    vug_status status = vugi_step(ctx, 0.9);
    for (size_t i = 0; i < count && !status; i++)
        if (verdict[i])
            status = vugi_fail(ctx, verdict[i], "the plan, held askew: %s",
                vug_status_string(verdict[i]));
    vugi_free(&ctx->mem, verdict);
    return status;
}

vug_status vugi_sample_paces(scene *s, const double *stop_deg, size_t count, double h, double *left)
{
    result r[VUGI_PACES];
    variant *list = vugi_alloc(&s->p->ctx->mem, count, sizeof *list);
    if (!list)
        return vugi_fail_memory(s->p->ctx);
    assert(count <= VUGI_PACES);
    for (size_t i = 0; i < count; i++) {
        list[i] = (variant){.stop_deg = stop_deg[i], .with = as_told(s)};
        memcpy(list[i].up, s->o->up, 3 * s->steps * sizeof(double));
    }
    vug_status status = play_all(s->p->ctx, s, list, count, h, r);
    for (size_t i = 0; i < count && !status; i++)
        left[i] = r[i].left;
    vugi_free(&s->p->ctx->mem, list);
    return status;
}

/* ---- askew -------------------------------------------------------------------------------- */

/* From 0 up to 1: Steele, Lea, Flood 2014, "Fast splittable pseudorandom number generators". */
static double next_random(uint64_t *state)
{
    uint64_t x = *state += UINT64_C(0x9E3779B97F4A7C15);
    x = (x ^ x >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    x = (x ^ x >> 27) * UINT64_C(0x94D049BB133111EB);
    return (double)((x ^ x >> 31) >> 11) * 0x1p-53;
}

/* up tilted by an angle, any way alike. */
static void tilt(const double up[3], double degrees, uint64_t *state, double out[3])
{
    double basis[9], axis[3], around = 2.0 * VUGI_PI * next_random(state);
    vugi_basis(up, basis);
    for (int k = 0; k < 3; k++)
        axis[k] = cos(around) * basis[k] + sin(around) * basis[3 + k];
    vugi_rotation_up(up, axis, degrees, out);
}

/* Holes so many times as wide, those that are there and new ones; NULL: a wider new one runs into another opening. */
static vug_status widened(const scene *s, double factor, vugi_hole *hole, vug_cavities **out)
{
    vug_context *ctx = s->p->ctx;
    const vugi_option *o = s->o;
    vug_cavities *there = NULL, *all = NULL;
    vug_status status = vugi_cavities_extend(ctx, s->p->cavities, NULL, 0, false, &there);
    if (status)
        return status;
    vugi_cavities_widen(there, factor);
    for (size_t i = 0; i < o->sites; i++) {
        hole[i] = vugi_site_hole(o->site + i);
        hole[i].diameter *= factor;
    }
    status = vugi_cavities_extend(ctx, there, hole, o->sites, false, &all);
    vug_cavities_free(there);
    if (status)
        return status == VUG_ERR_NOT_FOUND ? VUG_OK : status;
    if (all->opening_count == o->cavities->opening_count)
        *out = all;
    else
        vug_cavities_free(all);
    return VUG_OK;
}

/* Made once for all samples. */
static vug_status find_off(scene *s)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    if (s->off_known)
        return VUG_OK;
    vugi_hole *hole = vugi_alloc(mem, s->o->sites + 1, sizeof *hole);
    vug_status status = hole ? VUG_OK : vugi_fail_memory(s->p->ctx);
    for (int w = 0; w < 2 && !status; w++)
        status = widened(s, w > 0 ? 1.0 + VUGI_OFF : 1.0 - VUGI_OFF, hole, s->off + w);
    vugi_free(mem, hole);
    s->off_known = !status;
    return status;
}

/* Holes a tenth narrower, as told, and a tenth wider; where that can't be, as told. */
static const vug_cavities *with_holes(const scene *s, size_t width)
{
    const vug_cavities *off = width == 1 ? NULL : s->off[width / 2];
    return off ? off : s->o->cavities;
}

/* One of the nine of three widths of hole by three paints. */
static means mixed(const scene *s, size_t i)
{
    const vugi_planning *p = s->p;
    const size_t paint = i / 3 % 3;
    means m = as_told(s);
    m.cavities = with_holes(s, i % 3);
    if (paint > 0) {
        m.barriers = p->off_barriers + paint - 1;
        m.held = p->off_held[paint - 1];
    }
    return m;
}

/* Other poses for each variant, and other means. Those of a sample are the same whichever others are played. */
static variant hand(const scene *s, size_t n)
{
    const size_t given = s->p->start.given ? 1 : 0;
    uint64_t state = (uint64_t)(n + 1) << 32; /* the same for each alternative */
    variant v = {.stop_deg = s->any ? vugi_pace_deg[(n + n / 3 + n / 9) % VUGI_PACES] : s->stop,
        .with = mixed(s, n),
        .from = s->kept ? s->kept + n * s->o->cavities->cavity_count : NULL};
    memcpy(v.up, s->o->up, 3 * s->steps * sizeof(double));
    for (size_t k = given; k < s->steps; k++)
        tilt(s->o->up + 3 * k, s->p->options.tilt_deg, &state, v.up + 3 * k);
    return v;
}

static vug_status play_hands(scene *s, const size_t *number, size_t count, size_t keep,
    double enough)
{
    vug_context *ctx = s->p->ctx;
    result r[VUG_PLAN_SAMPLES];
    variant *list = vugi_alloc(&ctx->mem, count, sizeof *list);
    if (!list)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < count; i++) {
        list[i] = hand(s, number[i]);
        list[i].keep = keep;
        list[i].enough = enough;
    }
    vug_status status = play_all(ctx, s, list, count, s->p->square / VUGI_ASKEW_ACROSS, r);
    for (size_t i = 0; i < count && !status; i++) {
        s->seen[number[i]] = r[i].left;
        s->whole[number[i]] = r[i].whole;
    }
    vugi_free(&ctx->mem, list);
    return status;
}

vug_status vugi_sample_keep(scene *s)
{
    const size_t count = VUG_PLAN_SAMPLES * s->o->cavities->cavity_count;
    assert(!s->kept);
    if (!(s->kept = vugi_alloc(&s->p->ctx->mem, count, sizeof *s->kept)))
        return vugi_fail_memory(s->p->ctx);
    begin(s->kept, count);
    return VUG_OK;
}

void vugi_sample_forget(scene *s)
{
    forget(&s->p->ctx->mem, s->kept, VUG_PLAN_SAMPLES * s->o->cavities->cavity_count);
    s->kept = NULL;
}

vug_status vugi_sample_hands(scene *s, const size_t *number, size_t count, size_t keep,
    double enough)
{
    assert(count > 0 && count <= VUG_PLAN_SAMPLES && keep <= s->steps);
    vug_status status = find_off(s);
    return status ? status : play_hands(s, number, count, keep, enough);
}

vug_status vugi_sample_told(scene *s, double *left)
{
    return vugi_sample_paces(s, &s->stop, 1, s->p->square / VUGI_ASKEW_ACROSS, left);
}
