/* SPDX-License-Identifier: MIT
 * How long air and liquid take to pass each other in the throats of a cavity. Behind a throat that is the only way to a
 * chamber, and to those beyond it, liquid comes in as air goes out if there is no opening there, or if all are covered
 * while the part is turned: as much air has to pass the throat as there is more liquid behind it. */
#include "fill/waits.h"

#include "cavity/atlas.h"
#include "column/pose.h"
#include "flow/flow.h"
#include "flow/wait.h"

#include <math.h>
#include <string.h>

/* Less air than this share of the cavity, and waits shorter than this, are none. */
static const double NO_SHARE = 0.002, NO_WAIT_S = 1.0;

/* Throats that part the cavity: what lies behind one, on the side of its chamber b or a. */
typedef struct side {
    bool has[VUGI_CHAMBERS];
    bool parted; /* there is no other way around */
} side;

static side side_of(const vugi_scene *s, size_t throat)
{
    side out = {.parted = true};
    out.has[s->throat[throat].b] = true;
    for (bool grown = true; grown;) {
        grown = false;
        for (size_t i = 0; i < s->throat_count; i++) {
            const vugi_scene_throat *t = s->throat + i;
            if (i == throat || out.has[t->a] == out.has[t->b])
                continue;
            out.has[t->a] = out.has[t->b] = grown = true;
        }
    }
    out.parted = !out.has[s->throat[throat].a];
    return out;
}

/* Which sides have an opening that is not sealed: bit 0 that of chamber a, bit 1 that of b. */
static int open_sides(const vugi_fill_job *j, const vugi_scene *s, const side *b)
{
    int open = 0;
    for (size_t m = 0; m < s->mouth_count; m++) {
        int32_t chamber = vugi_atlas_chamber(s->atlas, s->mouth[m].inside);
        if (j->role[s->mouth[m].opening] != VUG_ROLE_SEALED && chamber >= 0)
            open |= b->has[chamber] ? 2 : 1;
    }
    return open;
}

static double within(const side *b, bool inside, const double *liquid)
{
    double sum = 0.0;
    for (int i = 0; i < VUGI_CHAMBERS; i++)
        sum += b->has[i] == inside ? liquid[i] : 0.0;
    return sum;
}

/* Liquid in the chambers before the turn, after it, and at the end. */
typedef struct stages {
    double before[VUGI_CHAMBERS], turned[VUGI_CHAMBERS], end[VUGI_CHAMBERS];
    bool is_turned;
} stages;

static vug_status find_stages(vug_context *ctx, const vugi_fill_job *j, const double *before,
    vug_course *c, stages *out)
{
    const size_t arcs = c->scene->graph.arc_count;
    vugi_frame frame;
    double *level = vugi_alloc(&ctx->mem, arcs, sizeof *level);
    const vug_moment moment = {.scene = c->scene, .level = level};
    if (!level)
        return vugi_fail_memory(ctx);
    *out = (stages){.is_turned = before && j->start};
    vugi_history_at(&c->history, &c->scene->graph, INFINITY, true, level, &frame);
    vug_status status = vugi_chambers_liquid(ctx, &moment, out->end);
    if (!status && out->is_turned) {
        memcpy(out->before, before, sizeof out->before);
        memcpy(level, j->start, arcs * sizeof *level);
        status = vugi_chambers_liquid(ctx, &moment, out->turned);
    }
    vugi_free(&ctx->mem, level);
    return status;
}

static double passing(const stages *at, const side *b, int open)
{
    double volume = 0.0;
    if (at->is_turned)
        volume = fabs(within(b, true, at->turned) - within(b, true, at->before));
    if (open == 1 || open == 2) /* one side is closed: what comes in there drives its air out */
        volume += fabs(within(b, open == 1, at->end) - within(b, open == 1, at->turned));
    return volume;
}

static vug_status wait_at(const vugi_fill_job *j, double radius, double volume, vug_context *ctx,
    vug_interval *wait)
{
    const vug_fill_options *o = &j->options;
    return vugi_exchange_wait(ctx, o->fluid_low ? o->fluid_low : &j->fluid, &j->fluid,
        o->fluid_high ? o->fluid_high : &j->fluid, 2.0 * radius, volume, wait);
}

/* The longer of two waits, -1 being the longest. */
static double longer(double a, double b)
{
    return a < 0.0 || b < 0.0 ? -1.0 : fmax(a, b);
}

static vug_status add_event(vug_context *ctx, vug_course *c, const vugi_scene_throat *t,
    double volume, const vug_interval *wait)
{
    vug_course_info *s = &c->summary;
    vugi_event e = {.kind = VUG_EVENT_WAIT,
        .opening = -1,
        .liquid = s->liquid_mm3,
        .time = s->time_s,
        .level = t->at[2],
        .volume = volume,
        .wait = {wait->typical, wait->low, wait->high},
        .diameter = 2.0 * t->radius};
    vugi_to_part(c->scene->columns.basis, t->at, e.point);
    s->wait_s = longer(s->wait_s, wait->typical);
    s->wait_low_s = longer(s->wait_low_s, wait->low);
    s->wait_high_s = longer(s->wait_high_s, wait->high);
    return vugi_history_event(&c->history, e) ? VUG_OK : vugi_fail_memory(ctx);
}

/* Would this throat be worth a look, if all that the cavity holds passed it? */
static vug_status matters(vug_context *ctx, const vugi_fill_job *j, const vugi_scene *s,
    size_t throat, bool turned, side *b, int *open, bool *yes)
{
    vug_interval wait = {.struct_size = sizeof wait};
    *yes = false;
    *b = side_of(s, throat);
    if (!b->parted)
        return VUG_OK;
    *open = open_sides(j, s, b);
    if (!turned && *open != 1 && *open != 2)
        return VUG_OK;
    vug_status status = wait_at(j, s->throat[throat].radius, s->graph.capacity, ctx, &wait);
    *yes = wait.high < 0.0 || wait.high >= NO_WAIT_S;
    return status;
}

vug_status vugi_fill_waits(vug_context *ctx, const vugi_fill_job *j, const double *before,
    vug_course *c)
{
    const vugi_scene *s = c->scene;
    stages at;
    bool known = false;
    vug_status status = VUG_OK;
    for (size_t i = 0; s->atlas && i < s->throat_count && !status; i++) {
        side b;
        int open = 0;
        bool yes;
        status = matters(ctx, j, s, i, before != NULL, &b, &open, &yes);
        if (status || !yes)
            continue;
        if (!known)
            status = find_stages(ctx, j, before, c, &at);
        known = true;
        double volume = status ? 0.0 : passing(&at, &b, open);
        vug_interval wait = {.struct_size = sizeof wait};
        if (volume <= NO_SHARE * s->graph.capacity)
            continue;
        status = wait_at(j, s->throat[i].radius, volume, ctx, &wait);
        if (!status && (wait.high < 0.0 || wait.high >= NO_WAIT_S))
            status = add_event(ctx, c, s->throat + i, volume, &wait);
    }
    return status;
}
