/* SPDX-License-Identifier: MIT
 * The sums of the bench for an alternative. What a sum refuses, no figure of the plan tells. */
#include "plan/verify/bench.h"

#include "base/angle.h"

#include <math.h>

/* Common practice, no source. */
static const double RESIN_LEFT = 0.001, NEEDLE_GAP_MM = 0.4, WARM_K = 20.0, WARM_PA = 20e3,
                    COLDEST_C = -18.0, ROOM_C = 20.0, HUMIDITY = 0.5, PLUG_MM = 3.0, LAMP_LOW = 5.0,
                    LAMP_HIGH = 20.0;
/* Who has to rinse more often has four fifths of the liquid stay each time: rinsing does not clean it. */
enum { MOST_RINSES = 30 };
/* A tenth of what cured resin bears, from memory. */
static const double PULL_PA = 5e6;
/* An opening without a bore has a rim that is not thinner. */
static const double LEAST_WALL_MM = 0.2;

typedef vugi_verification scene;

static const vugi_opening *opening_of(const scene *s, size_t i)
{
    return s->o->cavities->opening + i;
}

static double wall_of(const vugi_opening *o)
{
    return fmax(o->bore_length, LEAST_WALL_MM);
}

/* The widest opening of a cavity among those not listed; NULL: there is none. */
static const vugi_opening *widest(const vug_cavities *c, size_t cavity, const bool *without)
{
    const vugi_opening *most = NULL;
    for (size_t i = 0; i < c->opening_count; i++) {
        const vugi_opening *o = c->opening + i;
        if (o->cavity == (int32_t)cavity && !without[i] && (!most || o->radius > most->radius))
            most = o;
    }
    return most;
}

/* ---- washing --------------------------------------------------------------------------- */

vug_status vugi_bench_resin(vug_context *ctx, vug_fluid *raw)
{
    *raw = (vug_fluid){.struct_size = sizeof *raw};
    return vug_fluid_preset(ctx, VUG_FLUID_RESIN, VUG_TYPICAL, ROOM_C, raw);
}

/* A part full of raw resin, in the first pose of draining. */
static vug_status resin(scene *s)
{
    const vugi_allocator *mem = &s->p->ctx->mem;
    if (s->like) {
        s->o->info.resin_s = s->like->o->info.resin_s;
        s->o->info.resin_mm3 = s->like->o->info.resin_mm3;
        return VUG_OK;
    }
    vug_fluid raw;
    vugi_outcome outcome = {.moved = 0.0};
    vug_status status = vugi_bench_resin(s->p->ctx, &raw);
    const vugi_replay task = {.cavities = s->o->cavities,
        .closed = s->o->later,
        .fluid = &raw,
        .h = s->p->square / s->p->options.verify_across};
    if (!status && !vugi_outcomes_make(mem, s->o->cavities, &outcome, 1))
        status = vugi_fail_memory(s->p->ctx);
    if (!status)
        status = vugi_replay_drain(s->p->ctx, &task, s->down, 1, &outcome);
    s->o->info.resin_s = outcome.time;
    s->o->info.resin_mm3 = outcome.left + outcome.stuck;
    vugi_outcomes_free(mem, &outcome, 1);
    return status;
}

static void rinse(scene *s)
{
    vug_plan_info *info = &s->o->info;
    vug_rinse told = {.struct_size = sizeof told};
    info->film_mm3 = s->drain[s->washes - 1].film;
    double stays = info->residue_mm3 + info->film_mm3;
    info->rinses = 0;
    info->rinse_mm3 = 0.0;
    if (vug_rinse_compare(NULL, info->capacity_mm3, stays, 1.0, RESIN_LEFT, &told)
        || told.soak_cycles > MOST_RINSES)
        return;
    info->rinses = told.soak_cycles;
    info->rinse_mm3 = told.soak_mm3;
}

/* ---- light ------------------------------------------------------------------------------ */

static void cure(scene *s)
{
    vug_plan_info *info = &s->o->info;
    info->wall_mm = fmax(s->p->wall, LEAST_WALL_MM);
    info->cure_low_s = info->cure_high_s = 0.0;
    for (size_t i = 0; i < s->o->cavities->cavity_count; i++) {
        const vugi_cavity *c = s->o->cavities->cavity + i;
        const vugi_opening *o = widest(s->o->cavities, i, s->o->later);
        vug_cure_inside lamp;
        double low, high, wall, opening;
        if (!o || c->area <= 0.0 || vug_cure_inside_init(&lamp, sizeof lamp))
            continue;
        lamp.wall_mm = info->wall_mm;
        lamp.opening_mm = 2.0 * o->radius;
        lamp.distance_mm = 4.0 * c->volume / c->area;
        lamp.lamp_mw_cm2 = LAMP_HIGH;
        vug_status status = vug_cure_through(NULL, &lamp, &wall, &opening, &low);
        lamp.lamp_mw_cm2 = LAMP_LOW;
        if (status || vug_cure_through(NULL, &lamp, NULL, NULL, &high))
            continue;
        if (low > info->cure_low_s)
            s->o->wall_light = wall / (wall + opening);
        info->cure_low_s = fmax(info->cure_low_s, low);
        info->cure_high_s = fmax(info->cure_high_s, high);
    }
}

/* ---- needle ------------------------------------------------------------------------------- */

/* An opening of a cavity that takes less than a syringe measures decides nothing. */
static double needed_width(scene *s, uint32_t opening)
{
    const vugi_opening *o = opening_of(s, opening);
    return vugi_option_is_worth(s->o, (size_t)o->cavity) ? 2.0 * o->radius : INFINITY;
}

static void needle(scene *s)
{
    vug_plan_info *info = &s->o->info;
    double narrow = INFINITY;
    vug_needle told = {.struct_size = sizeof told};
    for (size_t k = s->p->start.given ? 1 : 0; k < s->steps; k++)
        for (size_t i = 0; i < s->o->fill[k].feed_count; i++)
            narrow = fmin(narrow, needed_width(s, s->o->fill[k].feed[i]));
    info->needle_gauge = 0;
    info->needle_mm = 0.0;
    if (!isfinite(narrow) || vug_needle_through(NULL, narrow, NEEDLE_GAP_MM, &told))
        return;
    info->needle_gauge = told.gauge;
    info->needle_mm = told.outer_mm;
}

/* ---- sealed ------------------------------------------------------------------------------- */

/* The pressure that pulls the shell's wall as far as it may be pulled for good. */
static double borne(const vug_shell *shell)
{
    const double one = 1e5;
    double stress = 0.0;
    if (vug_shell_under(NULL, shell, one, NULL, &stress) || stress <= 0.0)
        return one;
    return one * PULL_PA / stress;
}

static void seal_one(scene *s, size_t cavity, double wall)
{
    vug_plan_info *info = &s->o->info;
    double room = s->o->cavities->cavity[cavity].volume, share = 0.0;
    vug_shell shell;
    vug_sealed sealed;
    vug_shell_init(&shell, sizeof shell);
    vug_sealed_init(&sealed, sizeof sealed);
    shell.inner_radius_mm = cbrt(0.75 * room / VUGI_PI);
    shell.wall_mm = wall;
    if (vug_sealed_air(NULL, &shell, &sealed, WARM_K, WARM_PA, &share))
        info->warm_air_mm3 = -1.0;
    else if (info->warm_air_mm3 >= 0.0)
        info->warm_air_mm3 += share * room;
    if (vug_ice_air(NULL, &shell, 1.0, ROOM_C, COLDEST_C, borne(&shell), &share))
        share = 1.0;
    info->frost_air_mm3 += share * room;
}

double vugi_bench_dry(const vug_cavities *c, const bool *closed, size_t cavity, double water)
{
    const vugi_opening *hole = widest(c, cavity, closed);
    double time = 0.0;
    if (!hole || !(water > 0.0)
        || vug_drying_time(NULL, water, 2.0 * hole->radius, wall_of(hole), ROOM_C, HUMIDITY, &time))
        return 0.0;
    return time;
}

static void dry_one(scene *s, size_t cavity)
{
    vug_plan_info *info = &s->o->info;
    double share = s->o->cavities->cavity[cavity].volume / info->capacity_mm3;
    double water = s->p->fluid.volatile_share * (info->capacity_mm3 - info->trapped_mm3) * share;
    info->dry_s = fmax(info->dry_s, vugi_bench_dry(s->o->cavities, s->closed, cavity, water));
}

static void seal(scene *s)
{
    vug_plan_info *info = &s->o->info;
    info->warm_air_mm3 = info->frost_air_mm3 = info->dry_s = info->plug_mm3 = 0.0;
    info->thin_mm = fmax(s->p->thin, LEAST_WALL_MM);
    for (size_t i = 0; i < s->o->cavities->opening_count; i++) {
        const vugi_opening *o = opening_of(s, i);
        double glue = 0.0;
        if (!vug_plug(NULL, 2.0 * o->radius, fmin(wall_of(o), PLUG_MM), 0.0, &glue, NULL))
            info->plug_mm3 += glue;
    }
    for (size_t i = 0; i < s->o->cavities->cavity_count; i++) {
        if (!widest(s->o->cavities, i, s->closed) || !(s->p->fluid.volatile_share > 0.0))
            continue; /* what sets neither dries, nor boils, nor freezes */
        seal_one(s, i, info->thin_mm);
        dry_one(s, i);
    }
}

vug_status vugi_bench_sums(scene *s)
{
    vug_status status = s->p->start.given ? VUG_OK : resin(s);
    if (status)
        return status;
    if (!s->p->start.given)
        rinse(s);
    cure(s);
    needle(s);
    seal(s);
    return VUG_OK;
}
