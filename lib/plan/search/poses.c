/* SPDX-License-Identifier: MIT
 * The poses to search among. */
#include "plan/search/poses.h"

#include "base/angle.h"
#include "base/vec.h"
#include "column/pose.h"
#include "plan/cost.h"
#include "pose/rotation.h"
#include "pose/say.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { EASY = 26, BEST = 3, ROUNDS = 4, RING = 6 };

typedef struct pose_list {
    double *up, *ease;
    size_t count;
} pose_list;

static bool near_one(const pose_list *list, const double up[3], double degrees)
{
    double least = cos(degrees * VUGI_DEGREE);
    for (size_t i = 0; i < list->count; i++)
        if (vugi_dot(list->up + 3 * i, up) > least)
            return true;
    return false;
}

/* Poses are those that words can say: what is told is what was searched. */
static void put(pose_list *list, const double up[3], double ease)
{
    double *own = list->up + 3 * list->count;
    memcpy(own, up, 3 * sizeof *up);
    vugi_say_nearest(own);
    list->ease[list->count++] = ease;
}

/* The 26 directions with coordinates -1, 0, 1; upright and upside down first. */
static void put_easy(pose_list *list)
{
    for (int sides = 1; sides <= 3; sides++) {
        for (int code = 26; code >= 0; code--) {
            double up[3] = {(double)(code / 3 % 3) - 1.0, (double)(code % 3) - 1.0,
                (double)(code / 9) - 1.0};
            double square = vugi_dot(up, up);
            if ((int)square != sides)
                continue;
            double ease = vugi_cost_ease(sides, up[2] != 0.0);
            for (int k = 0; k < 3; k++)
                up[k] /= sqrt(square);
            put(list, up, ease);
        }
    }
}

/* Evenly spread poses that are not near one that is there, until there are want. */
static void put_even(pose_list *list, size_t want, double *even)
{
    if (want <= list->count)
        return;
    size_t missing = want - list->count, spread = missing + missing / 4 + 1;
    vug_sphere_points(spread, even);
    double gap = 0.5 * sqrt(4.0 * VUGI_PI / (double)spread) * VUGI_RADIAN;
    for (size_t i = 0; i < spread && list->count < want; i++) {
        double up[3];
        memcpy(up, even + 3 * i, sizeof up);
        vugi_say_nearest(up);
        if (!near_one(list, up, gap))
            put(list, up, vugi_cost_ease_any());
    }
}

/* ---- refining -------------------------------------------------------------------- */

typedef struct peak {
    double up[3], air;
} peak;

/* The poses with the least air after a first fill that are not near one another. */
static vug_status find_peaks(vugi_planning *p, peak *peaks, size_t *count)
{
    double *air = vugi_alloc(&p->ctx->mem, p->pose_set.count, sizeof *air);
    vug_status status = air ? VUG_OK : vugi_fail_memory(p->ctx);
    for (size_t i = 0; i < p->pose_set.count && !status; i++)
        status = vugi_pose_set_first(p->ctx, &p->pose_set, i, air + i);
    for (*count = 0; *count < BEST && !status; (*count)++) {
        size_t best = SIZE_MAX;
        for (size_t i = 0; i < p->pose_set.count; i++) {
            bool taken = false;
            for (size_t k = 0; k < *count; k++)
                taken |= vugi_dot(peaks[k].up, p->pose_set.up + 3 * i) > 0.94; /* 20 degrees */
            if (!taken && (best == SIZE_MAX || air[i] < air[best]))
                best = i;
        }
        if (best == SIZE_MAX)
            break;
        peaks[*count].air = air[best];
        memcpy(peaks[*count].up, p->pose_set.up + 3 * best, sizeof peaks->up);
    }
    vugi_free(&p->ctx->mem, air);
    return status;
}

/* Poses a step away around each peak. */
static size_t ring_around(const peak *peaks, size_t count, double step_deg, double *up)
{
    assert(count <= BEST);
    size_t rows = 0;
    for (size_t i = 0; i < count; i++) {
        double basis[9];
        vugi_basis(peaks[i].up, basis);
        for (int k = 0; k < RING; k++, rows++) {
            double axis[3], angle = 2.0 * VUGI_PI * k / RING;
            for (int j = 0; j < 3; j++)
                axis[j] = cos(angle) * basis[j] + sin(angle) * basis[3 + j];
            vugi_rotation_up(peaks[i].up, axis, step_deg, up + 3 * rows);
            vugi_say_nearest(up + 3 * rows);
        }
    }
    return rows;
}

static vug_status set_vents(vugi_planning *p, vugi_pose_set *s)
{
    size_t count = p->cavities->opening_count;
    const vugi_opening **opening = vugi_alloc(&p->ctx->mem, count, sizeof *opening);
    if (!opening)
        return vugi_fail_memory(p->ctx);
    for (size_t i = 0; i < count; i++)
        opening[i] = p->cavities->opening + i;
    vug_status status = vugi_pose_set_vent(p->ctx, opening, p->closed, count, count, s);
    vugi_free(&p->ctx->mem, opening);
    return status;
}

/* One round: each peak moves to the best of its ring, if that is better. */
static vug_status climb(vugi_planning *p, peak *peaks, size_t count, double step_deg)
{
    assert(count <= BEST);
    double up[3 * BEST * RING];
    vugi_pose_set ring = {.count = 0};
    size_t rows = ring_around(peaks, count, step_deg, up);
    vug_status status = vugi_pose_set_build(p->ctx, p->cavities, &p->barriers, up, NULL, rows, p->h,
        &ring);
    if (!status)
        status = set_vents(p, &ring);
    for (size_t i = 0; i < rows && !status; i++) {
        double air = INFINITY;
        peak *at = peaks + i / RING;
        status = vugi_pose_set_first(p->ctx, &ring, i, &air);
        if (air < at->air - 1e-4 * p->pose_set.capacity) {
            at->air = air;
            memcpy(at->up, up + 3 * i, sizeof at->up);
        }
    }
    vugi_pose_set_free(&p->ctx->mem, &ring);
    return status;
}

/* Adds the best poses, refined down to the steps that words have, where they are better than those there are. */
static vug_status refine(vugi_planning *p)
{
    peak peaks[BEST], start[BEST];
    double up[3 * BEST], ease[BEST];
    vugi_pose_set more = {.count = 0};
    pose_list list = {up, ease, 0};
    size_t count = 0;
    const double steps[ROUNDS] = {15.0, 10.0, 5.0, 5.0};
    vug_status status = find_peaks(p, peaks, &count);
    memcpy(start, peaks, sizeof start);
    for (int round = 0; round < ROUNDS && !status; round++)
        status = climb(p, peaks, count, steps[round]);
    for (size_t i = 0; i < count && !status; i++)
        if (peaks[i].air < start[i].air)
            put(&list, peaks[i].up, vugi_cost_ease_any());
    if (!status && list.count > 0)
        status = vugi_pose_set_build(p->ctx, p->cavities, &p->barriers, up, ease, list.count, p->h,
            &more);
    if (!status && list.count > 0)
        status = vugi_pose_set_append(p->ctx, &p->pose_set, &more);
    vugi_pose_set_free(&p->ctx->mem, &more);
    return status;
}

vug_status vugi_poses_choose(vugi_planning *p)
{
    vug_context *ctx = p->ctx;
    size_t want = p->options.pose_count, most = want + EASY + 1;
    pose_list list = {.up = vugi_alloc(&ctx->mem, 3 * most, sizeof(double)),
        .ease = vugi_alloc(&ctx->mem, most, sizeof(double))};
    double *even = vugi_alloc(&ctx->mem, 6 * most + 3, sizeof *even);
    vug_status status = list.up && list.ease && even ? VUG_OK : vugi_fail_memory(ctx);
    p->first = UINT32_MAX;
    if (!status) {
        if (p->options.pose_given || p->start.given) {
            p->first = 0;
            put(&list, p->start.given ? p->start.up : p->options.first_up, vugi_cost_ease(1, true));
        }
        put_easy(&list);
        put_even(&list, want, even);
        status = vugi_pose_set_build(ctx, p->cavities, &p->barriers, list.up, list.ease, list.count,
            p->h, &p->pose_set);
    }
    if (!status)
        status = set_vents(p, &p->pose_set);
    if (!status && p->cavities->opening_count > 0)
        status = refine(p);
    if (!status)
        status = set_vents(p, &p->pose_set);
    vugi_free(&ctx->mem, list.up);
    vugi_free(&ctx->mem, list.ease);
    vugi_free(&ctx->mem, even);
    return status;
}
