/* SPDX-License-Identifier: MIT
 * The same steps done a little differently. */
#include "plan/verify/sample.h"

#include "base/angle.h"
#include "base/context_types.h"
#include "base/sort.h"
#include "base/threads.h"
#include "column/pose.h"
#include "pose/rotation.h"

#include <assert.h>
#include <math.h>
#include <string.h>

typedef vugi_verification scene;

typedef struct variant {
    double up[3 * (VUG_MAX_TURNS + 1)];
    double stop_deg;
} variant;

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

/* What throats and the fluid hold back the fill does not know: then the bubbles are played too. */
static vug_status play_bubbles(vug_context *ctx, const scene *s, const variant *v, double h,
    double *left)
{
    vugi_bubbles_step step[VUG_MAX_TURNS + 1];
    vugi_bubbles_task task = {.cavities = s->o->cavities,
        .closed = s->closed,
        .barriers = &s->p->barriers,
        .held = s->p->held,
        .up = v->up,
        .steps = s->steps,
        .h = h,
        .turn_step_deg = v->stop_deg,
        .start = s->p->start.given ? &s->p->start : NULL};
    double capacity;
    vug_status status = vugi_bubbles_run(ctx, &task, step, &capacity);
    if (!status)
        *left = fmax(*left, step[s->steps - 1].trapped * s->scale);
    return status;
}

/* A context of its own: messages and progress stay with the caller's. */
static vug_status play_variant(const vugi_allocator *mem, const scene *s, const variant *v,
    double h, double *left)
{
    vug_context ctx = {.mem = *mem, .threads = 1, .hi = 1.0, .stage = ""};
    vugi_move move[VUG_MAX_TURNS + 1];
    vugi_outcome outcome[VUG_MAX_TURNS + 1];
    vugi_replay task = {.cavities = s->o->cavities,
        .closed = s->closed,
        .fluid = &s->p->fluid,
        .h = h,
        .start = s->p->start.given ? &s->p->start : NULL,
        .brief = true,
        .plain = true};
    memset(outcome, 0, sizeof outcome);
    vug_status status = vary(mem, s, v, move)
        ? vugi_replay_fill(&ctx, &task, move, s->steps, outcome)
        : VUG_ERR_MEMORY;
    *left = outcome[s->steps - 1].left;
    if (!status && s->held)
        status = play_bubbles(&ctx, s, v, h, left);
    for (size_t k = 0; k < s->steps; k++)
        vugi_free(mem, move[k].way);
    return status;
}

/* ---- all of them ------------------------------------------------------------------------ */

static vug_status play_all(vug_context *ctx, const scene *s, const variant *list, size_t count,
    double h, double *left)
{
    atomic_int stop = 0;
    vug_status stepped = VUG_OK; /* written by the calling thread alone */
    vug_status *verdict = vugi_calloc(&ctx->mem, count, sizeof *verdict);
    int threads = vugi_threads(ctx, count);
    (void)threads;
    if (!verdict)
        return vugi_fail_memory(ctx);
#pragma omp parallel for schedule(dynamic, 1) num_threads(threads)
    for (size_t i = 0; i < count; i++) {
        if (vugi_thread_index() == 0 && !atomic_load(&stop)) {
            stepped = vugi_step(ctx, 0.9);
            if (stepped)
                atomic_store(&stop, 1);
        }
        if (!atomic_load(&stop))
            verdict[i] = play_variant(&ctx->mem, s, list + i, h, left + i);
    }
    vug_status status = stepped;
    for (size_t i = 0; i < count && !status; i++)
        if (verdict[i])
            status = vugi_fail(ctx, verdict[i], "the plan, held askew: %s",
                vug_status_string(verdict[i]));
    vugi_free(&ctx->mem, verdict);
    return status;
}

vug_status vugi_sample_paces(scene *s, const double *stop_deg, size_t count, double h, double *left)
{
    variant *list = vugi_alloc(&s->p->ctx->mem, count, sizeof *list);
    if (!list)
        return vugi_fail_memory(s->p->ctx);
    for (size_t i = 0; i < count; i++) {
        list[i].stop_deg = stop_deg[i];
        memcpy(list[i].up, s->o->up, 3 * s->steps * sizeof(double));
    }
    vug_status status = play_all(s->p->ctx, s, list, count, h, left);
    vugi_free(&s->p->ctx->mem, list);
    return status;
}

/* ---- askew -------------------------------------------------------------------------------- */

/* Columns for poses held askew. What they see is told as more or less than what the same columns see of the steps as
 * they are told. */
static const double ASKEW_ACROSS = 60.0;

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

static int rising(const void *a, const void *b, const void *user)
{
    double x = *(const double *)a, y = *(const double *)b;
    (void)user;
    return (x > y) - (x < y);
}

vug_status vugi_sample_tilts(scene *s, double *left)
{
    vug_context *ctx = s->p->ctx;
    enum { AS_TOLD = VUG_PLAN_SAMPLES, ALL };
    double seen[ALL], told = s->fill[s->steps - 1].left;
    variant *list = vugi_alloc(&ctx->mem, ALL, sizeof *list);
    uint64_t state = 1; /* the same for each alternative */
    if (!list)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < ALL; i++) {
        list[i].stop_deg = s->stop;
        memcpy(list[i].up, s->o->up, 3 * s->steps * sizeof(double));
        for (size_t k = s->p->start.given ? 1 : 0; k < s->steps && i != AS_TOLD; k++)
            tilt(s->o->up + 3 * k, s->p->options.tilt_deg, &state, list[i].up + 3 * k);
    }
    vug_status status = play_all(ctx, s, list, ALL, s->p->size / ASKEW_ACROSS, seen);
    vugi_free(&ctx->mem, list);
    for (size_t i = 0; i < VUG_PLAN_SAMPLES && !status; i++)
        left[i] = fmax(0.0, told + seen[i] - seen[AS_TOLD]);
    if (!status && !vugi_sort(&ctx->mem, left, VUG_PLAN_SAMPLES, sizeof *left, rising, NULL))
        status = vugi_fail_memory(ctx);
    return status;
}
