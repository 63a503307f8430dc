/* SPDX-License-Identifier: MIT
 * A coat instead of a core. The poses are those of a hand: once around end over end, and once around sideways, an eighth
 * at a time; how little paint wets the walls so is tried by the simulation. */
#include "plan/verify/coat.h"

#include "base/angle.h"
#include "pose/rotation.h"
#include "pose/say.h"

#include "plan/verify/bench.h"
#include "plan/verify/replay.h"

#include <math.h>
#include <string.h>

/* Shares of the cavity to swirl, tried in this order; wetted is what is at least so much of the skin; less than half is no
 * coat (common practice, no source). */
static const double SWIRLED[] = {0.1, 0.2, 0.3}, WETTED = 0.98, LEAST_WETTED = 0.5;

/* A dry film that hides what is behind (common practice, no source). */
static const double DRY_MM = 0.1;

/* Nobody waits longer for one coat to dry, s (common practice, no source). */
static const double LONGEST_DRY_S = 14.0 * 86400.0;

enum { MOST_COATS = 12 };

/* The swirl needs no finer columns than a first look, nor finer pieces of skin than a film is even over. */
static const double COAT_ACROSS = 40.0, COAT_PIECES = 30.0;

/* Upright before, between and after. */
static void set_poses(vugi_coat *coat)
{
    for (int k = 0; k < VUGI_COAT_STEPS; k++) {
        const bool over = k <= 8; /* end over end, then sideways */
        const double angle = 0.25 * VUGI_PI * (over ? k : k - 8);
        double *up = coat->up + 3 * k;
        up[0] = over ? 0.0 : sin(angle);
        up[1] = over ? sin(angle) : 0.0;
        up[2] = cos(angle);
        vugi_say_nearest(up);
    }
}

/* Where it is swirled: in the part as it is, before new holes are drilled; in a model, with its holes. */
static vugi_replay part_of(const vugi_planning *p)
{
    const vugi_option *o = p->model && p->plan->count > 0 ? p->plan->option[0] : NULL;
    return (vugi_replay){.cavities = o ? o->cavities : p->cavities,
        .closed = o ? o->closed : p->closed,
        .fluid = &p->fluid,
        .h = p->square / COAT_ACROSS,
        .brief = true};
}

/* What one swirl wets, with so much of each cavity's room in it. */
static vug_status swirl(vugi_planning *p, const vugi_coat *coat, double share, vug_skin_info *got)
{
    const vugi_allocator *mem = &p->ctx->mem;
    vugi_move move[VUGI_COAT_STEPS];
    vugi_outcome none[VUGI_COAT_STEPS];
    vugi_start start = {.given = true, .inlet = -1};
    vugi_replay task = part_of(p);
    task.start = &start;
    vug_skin_options skin;
    vug_skin_options_init(&skin, sizeof skin);
    skin.spacing_mm = p->size / COAT_PIECES;
    skin.depth_mm = 0.0; /* what is wetted counts alone */
    bool good = vugi_moves_make(mem, task.cavities, move, VUGI_COAT_STEPS);
    good &= vugi_outcomes_make(mem, task.cavities, none, VUGI_COAT_STEPS);
    for (int k = 0; k < VUGI_COAT_STEPS; k++)
        memcpy(move[k].up, coat->up + 3 * k, sizeof move[k].up);
    memcpy(start.up, coat->up, sizeof start.up);
    vug_status status = good ? vug_skin_make(p->ctx, task.cavities, &skin, &task.skin)
                             : vugi_fail_memory(p->ctx);
    for (size_t i = 0; i < task.cavities->cavity_count && !status; i++) {
        if (!vugi_replay_reached(&task, i))
            continue;
        start.cavity = i;
        start.liquid = share * task.cavities->cavity[i].volume;
        status = vugi_replay_fill(p->ctx, &task, move, VUGI_COAT_STEPS, none);
    }
    if (!status)
        status = vug_skin_get(p->ctx, task.skin, got);
    vug_skin_free(task.skin);
    vugi_moves_free(mem, move, VUGI_COAT_STEPS);
    vugi_outcomes_free(mem, none, VUGI_COAT_STEPS);
    return status;
}

/* The least of the amounts that wets the skin, or the most that any does. */
static vug_status find_amount(vugi_planning *p, vugi_coat *coat, double area, double *film)
{
    double most = LEAST_WETTED * area;
    for (size_t i = 0; i < sizeof SWIRLED / sizeof *SWIRLED && most < WETTED * area; i++) {
        vug_skin_info skin = {.struct_size = sizeof skin};
        vug_status status = swirl(p, coat, SWIRLED[i], &skin);
        if (status)
            return status;
        double wetted = area - fmax(0.0, area - skin.area_mm2 + skin.bare_mm2);
        if (wetted <= most)
            continue;
        most = coat->wetted = wetted;
        coat->share = SWIRLED[i];
        *film = skin.film_mm;
    }
    return VUG_OK;
}

/* The slowest cavity, one coat. */
static double dry_time(const vugi_replay *all, double film)
{
    const vug_cavities *c = all->cavities;
    double slowest = 0.0;
    for (size_t i = 0; i < c->cavity_count; i++)
        slowest = fmax(slowest,
            vugi_bench_dry(c, all->closed, i,
                all->fluid->volatile_share * film * c->cavity[i].area));
    return slowest;
}

static void tell(vugi_planning *p, double room)
{
    const vugi_coat *coat = &p->plan->coat;
    for (size_t i = 0; i < p->plan->count && coat->coats > 0; i++) {
        vug_plan_info *info = &p->plan->option[i]->info;
        if (vugi_option_unfilled(p->plan->option[i]))
            continue;
        info->coats = coat->coats;
        info->coat_steps = VUGI_COAT_STEPS;
        info->swirl_mm3 = coat->share * room;
        info->coat_mm3 = coat->paint;
        info->coat_wetted_mm2 = coat->wetted;
        info->coat_dry_s = coat->dry_s;
    }
}

vug_status vugi_plan_coat(vugi_planning *p)
{
    vugi_coat *coat = &p->plan->coat;
    vug_coat sums = {.struct_size = sizeof sums};
    const vugi_replay all = part_of(p);
    double area = vugi_replay_skin(&all), film = 0.0, room = vugi_replay_room(&all);
    if (p->start.given || !(room > 0.0) || !(area > 0.0))
        return VUG_OK;
    set_poses(coat);
    vug_status status = find_amount(p, coat, area, &film);
    if (status || !(coat->wetted > 0.0) || !(film > 0.0)
        || vug_coat_plan(NULL, coat->wetted, room, DRY_MM, 1.0 - p->fluid.volatile_share, film,
            &sums)
        || sums.coats > MOST_COATS || sums.saved_mm3 <= 0.0)
        return status;
    coat->dry_s = dry_time(&all, film);
    if (coat->dry_s > LONGEST_DRY_S)
        return VUG_OK;
    coat->coats = sums.coats;
    coat->paint = sums.coat_paint_mm3;
    tell(p, room);
    return VUG_OK;
}
