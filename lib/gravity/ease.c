/* SPDX-License-Identifier: MIT
 * Sills of the columns, put where the mesh has them.
 *
 * A gravity graph is swept from the columns as they are, so a level that is known closer has to be in them: the span
 * that limits a sill, and those around it that are between the level seen through the columns and the
 * true one, end at the true one. That moves less than a spacing of a few spans, but the level of all that the
 * sill holds back. */
#include "gravity/ease.h"

#include "cavity/rim.h"
#include "cavity/trust.h"
#include "column/estimate.h"
#include "column/flood.h"
#include "column/sill.h"

#include <math.h>
#include <string.h>

/* Columns around a sill that may limit it as well; and how often what was eased is looked at again. */
enum { AROUND = 2, ROUNDS = 3 };

typedef struct ease {
    vug_context *ctx;
    const vugi_allocator *mem;
    const vugi_easing *of;
    bool liquid;
    vugi_columns *columns;
    vugi_seed *seed;
    size_t seed_count, seed_capacity;
    vugi_flood flood;
    vugi_sill_room room;
    double seen; /* ceiling of the span that limits a sill */
} ease;

void vugi_cavity_bodies(const vug_cavities *c, size_t cavity, vugi_bore *bore, vugi_bodies *bodies)
{
    *bodies = (vugi_bodies){.mesh = c->body + cavity, .count = 1, .bore = bore};
    for (size_t i = 0; i < c->bore_count; i++) {
        if (c->bore[i].body != (int32_t)cavity)
            continue;
        bore[bodies->bore_count] = c->bore[i];
        bore[bodies->bore_count++].body = 0;
    }
}

vug_status vugi_ease_seeds(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, const vugi_opening *o, bool liquid, const vugi_columns *columns,
    vugi_seed **seed, size_t *count, size_t *capacity)
{
    const vugi_pose_spans spans = vugi_spans_of_columns(columns);
    const double error = vugi_opening_error(cavities, o, columns->basis + 6, liquid);
    vugi_opening_span *at = NULL;
    size_t found = 0;
    vug_status status = vugi_opening_spans(ctx, mem, o, &spans, true, &at, &found);
    if (!status && !vugi_reserve(mem, seed, capacity, *count + found, sizeof **seed))
        status = vugi_fail_memory(ctx);
    for (size_t i = 0; i < found && !status; i++)
        (*seed)[(*count)++] = (vugi_seed){at[i].span, liquid ? at[i].lip : at[i].top, error};
    vugi_free(mem, at);
    return status;
}

static vug_status find_seeds(ease *e)
{
    const vug_cavities *c = e->of->cavities;
    const bool *open = e->of->open;
    vug_status status = VUG_OK;
    e->seed_count = 0;
    for (size_t i = 0; i < c->opening_count && !status; i++)
        if (c->opening[i].cavity == (int32_t)e->of->cavity && (!open || open[i]))
            status = vugi_ease_seeds(e->ctx, e->mem, c, c->opening + i, e->liquid, e->columns,
                &e->seed, &e->seed_count, &e->seed_capacity);
    return status;
}

/* Of a level: upside down for liquid, as vugi_span_ceiling() is. */
static double upward(const ease *e, double level)
{
    return e->liquid ? -level : level;
}

/* Puts the ceiling of a span, or its floor, at a level, if there is room for it. */
static bool put(const ease *e, size_t s, size_t column, double level)
{
    vugi_columns *c = e->columns;
    if (e->liquid) {
        if (level >= c->hi[s] || (s > c->first[column] && level <= c->hi[s - 1]))
            return false;
        c->lo[s] = level;
        return true;
    }
    if (level <= c->lo[s] || (s + 1 < c->first[column + 1] && level >= c->lo[s + 1]))
        return false;
    c->hi[s] = level;
    return true;
}

/* Calls for each column around one. Whether any of the calls moved a span. */
typedef bool (*around_fn)(const ease *e, const vugi_sharp *sharp, size_t column);

static bool around(const ease *e, const vugi_sharp *sharp, around_fn call)
{
    const vugi_columns *c = e->columns;
    size_t column = vugi_flood_column(&e->flood, sharp->sill);
    int32_t i = (int32_t)(column % (size_t)c->nx), j = (int32_t)(column / (size_t)c->nx);
    bool any = false;
    for (int32_t y = j - AROUND; y <= j + AROUND; y++)
        for (int32_t x = i - AROUND; x <= i + AROUND; x++)
            if (x >= 0 && y >= 0 && x < c->nx && y < c->ny)
                any |= call(e, sharp, (size_t)y * (size_t)c->nx + (size_t)x);
    return any;
}

/* Spans that are at least as high as a sill, but not as high as it is in truth, are raised to that. */
static bool raise(const ease *e, const vugi_sharp *sharp, size_t column)
{
    const vugi_columns *c = e->columns;
    bool any = false;
    for (size_t s = c->first[column]; s < c->first[column + 1]; s++) {
        double own = vugi_span_ceiling(c, e->liquid, s);
        if (own >= e->seen && own < upward(e, sharp->level))
            any |= put(e, s, column, sharp->level);
    }
    return any;
}

/* Of a span beyond a sill and one beside it that lies before, the lower one is lowered to the sill's level: no two of
 * them both are higher than what the columns see. */
static bool part(const ease *e, const vugi_sharp *sharp, size_t beyond, size_t from, size_t column)
{
    const vugi_columns *c = e->columns;
    const double level = upward(e, sharp->level);
    bool any = false;
    for (size_t n = c->first[column]; n < c->first[column + 1]; n++) {
        double own = vugi_span_ceiling(c, e->liquid, beyond),
               next = vugi_span_ceiling(c, e->liquid, n);
        if (e->flood.sill[n] == sharp->sill || !(upward(e, e->flood.level[n]) > level)
            || !(fmin(own, next) > level) || fmin(own, next) > e->seen
            || !vugi_spans_touch(c, beyond, n))
            continue;
        any |= own <= next ? put(e, beyond, from, sharp->level) : put(e, n, column, sharp->level);
    }
    return any;
}

static bool lower(const ease *e, const vugi_sharp *sharp, size_t column)
{
    const vugi_columns *c = e->columns;
    size_t nx = (size_t)c->nx, x = column % nx, y = column / nx;
    bool any = false;
    for (size_t s = c->first[column]; s < c->first[column + 1]; s++) {
        if (e->flood.sill[s] != sharp->sill)
            continue;
        if (x > 0)
            any |= part(e, sharp, s, column, column - 1);
        if (x + 1 < nx)
            any |= part(e, sharp, s, column, column + 1);
        if (y > 0)
            any |= part(e, sharp, s, column, column - nx);
        if (y + 1 < (size_t)c->ny)
            any |= part(e, sharp, s, column, column + nx);
    }
    return any;
}

/* Whether any span was moved. */
static bool move(ease *e)
{
    const vugi_columns *c = e->columns;
    bool any = false;
    for (size_t i = 0; i < e->flood.sharp_count; i++) {
        const vugi_sharp *sharp = e->flood.sharp + i;
        e->seen = vugi_span_ceiling(c, e->liquid, sharp->sill);
        double higher = upward(e, sharp->level) - e->seen;
        if (fabs(higher) <= sharp->error || fabs(higher) > VUGI_STEEPEST * c->h)
            continue;
        any |= around(e, sharp, higher > 0.0 ? raise : lower);
    }
    return any;
}

static vug_status ease_once(ease *e, vugi_sharps *known, bool *moved)
{
    vug_status status = find_seeds(e);
    *moved = false;
    if (!status)
        status = vugi_flood_run(e->ctx, e->mem, e->columns, e->liquid, e->seed, e->seed_count,
            &e->flood);
    if (!status
        && (!vugi_flood_recall(e->mem, e->columns, e->liquid, known, &e->flood)
            || !vugi_flood_sharpen(e->mem, e->of->bodies, (int32_t)e->of->cavity, e->columns,
                e->liquid, &e->flood, &e->room)))
        status = vugi_fail_memory(e->ctx);
    if (status)
        return status;
    *moved = move(e);
    known->count = e->flood.sharp_count;
    memcpy(known->at, e->flood.sharp, known->count * sizeof *known->at);
    return VUG_OK;
}

vug_status vugi_ease_sills(vug_context *ctx, const vugi_allocator *mem, const vugi_easing *of,
    bool liquid, vugi_columns *columns, vugi_sharps *sharp)
{
    ease e = {.ctx = ctx, .mem = mem, .of = of, .liquid = liquid, .columns = columns};
    vug_status status = VUG_OK;
    bool moved = true;
    *sharp = (vugi_sharps){.liquid = liquid};
    for (int round = 0; round < ROUNDS && moved && !status; round++)
        status = ease_once(&e, sharp, &moved);
    vugi_free(mem, e.seed);
    vugi_flood_free(mem, &e.flood);
    vugi_sill_room_free(mem, &e.room);
    return status;
}
