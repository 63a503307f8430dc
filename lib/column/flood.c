/* SPDX-License-Identifier: MIT
 * Priority-Flood over spans. Liquid is air in the mirror: both run on one core that takes the
 * ceilings of the spans, or their negated floors. */
#include "column/flood.h"

#include "column/columns.h"
#include "column/front.h"

#include <math.h>

struct vugi_flood_room {
    vugi_front front;
    uint32_t *column;
    size_t column_capacity;
    double *error; /* of each seed */
    size_t error_capacity, seed_count;
};

/* Gives the spans of column col that touch from's their level. Only a span with a seed of its own
 * can have one already that is too low: levels come in falling order. */
static inline bool spread_to(const vugi_allocator *mem, const vugi_columns *c, bool liquid,
    vugi_front_entry from, size_t col, vugi_flood *f)
{
    double *level = f->level;
    for (size_t n = c->first[col], end = c->first[col + 1]; n < end; n++) {
        if (from.level <= level[n] || !vugi_spans_touch(c, from.at, n))
            continue;
        const double top = vugi_span_ceiling(c, liquid, n);
        const bool lower = top < from.level;
        if (lower && top <= level[n])
            continue;
        level[n] = lower ? top : from.level;
        f->sill[n] = lower ? (uint32_t)n : f->sill[from.at];
        if (!vugi_front_push(mem, &f->room->front, (vugi_front_entry){level[n], (uint32_t)n},
                lower))
            return false;
    }
    return true;
}

/* The same for all four columns beside from's. */
static bool spread(const vugi_allocator *mem, const vugi_columns *c, bool liquid,
    vugi_front_entry from, vugi_flood *f)
{
    const uint32_t col = f->room->column[from.at], nx = (uint32_t)c->nx, x = col % nx, y = col / nx;
    const size_t beside[4] = {(size_t)col - 1, (size_t)col + 1, (size_t)col - nx, (size_t)col + nx};
    const bool is[4] = {x > 0, x + 1 < nx, y > 0, y + 1 < (uint32_t)c->ny};
    for (int k = 0; k < 4; k++)
        if (is[k] && !spread_to(mem, c, liquid, from, beside[k], f))
            return false;
    return true;
}

/* Room for all spans and seeds; no span has a level yet. */
static bool begin(const vugi_allocator *mem, const vugi_columns *c, size_t seed_count,
    vugi_flood *f)
{
    if (!f->room && !(f->room = vugi_calloc(mem, 1, sizeof *f->room)))
        return false;
    struct vugi_flood_room *r = f->room;
    if (!vugi_reserve(mem, &f->level, &f->capacity, c->count + 1, sizeof *f->level)
        || !vugi_reserve(mem, &f->sill, &f->sill_capacity, c->count + 1, sizeof *f->sill)
        || !vugi_reserve(mem, &r->error, &r->error_capacity, seed_count, sizeof *r->error)
        || !vugi_reserve(mem, &r->column, &r->column_capacity, c->count + 1, sizeof *r->column))
        return false;
    vugi_columns_of_spans(c, r->column);
    for (size_t s = 0; s < c->count; s++) {
        f->level[s] = -INFINITY;
        f->sill[s] = UINT32_MAX;
    }
    r->seed_count = seed_count;
    f->sharp_count = 0;
    r->front.heap_count = r->front.queue_count = 0;
    return true;
}

/* In place of the number of a span. */
static uint32_t seeded(size_t seed)
{
    return (uint32_t)(UINT32_MAX - 1 - seed);
}

vug_status vugi_flood_run(vug_context *ctx, const vugi_allocator *mem, const vugi_columns *c,
    bool liquid, const vugi_seed *seed, size_t seed_count, vugi_flood *f)
{
    if (!begin(mem, c, seed_count, f))
        return vugi_fail_memory(ctx);
    struct vugi_flood_room *r = f->room;
    double *level = f->level;
    for (size_t i = 0; i < seed_count; i++) {
        r->error[i] = seed[i].error;
        double rim = liquid ? -seed[i].level : seed[i].level;
        vugi_front_entry e = {fmin(rim, vugi_span_ceiling(c, liquid, seed[i].span)), seed[i].span};
        if (e.level <= level[e.at])
            continue;
        level[e.at] = e.level;
        f->sill[e.at] = e.level < rim ? e.at : seeded(i);
        if (!vugi_front_push(mem, &r->front, e, true))
            return vugi_fail_memory(ctx);
    }
    for (vugi_front_entry e; vugi_front_pop(&r->front, &e);) {
        if (e.level < level[e.at])
            continue; /* a seed that a better one has overtaken */
        if (!spread(mem, c, liquid, e, f))
            return vugi_fail_memory(ctx);
    }
    if (liquid)
        for (size_t s = 0; s < c->count; s++)
            level[s] = -level[s];
    return VUG_OK;
}

bool vugi_flood_from(const vugi_allocator *mem, const vugi_bodies *bodies, const vugi_columns *c,
    bool liquid, const vugi_wall_flood *walls, const double *error, size_t openings, vugi_flood *f)
{
    if (!begin(mem, c, openings + 1, f))
        return false;
    for (size_t i = 0; i < openings; i++)
        f->room->error[i] = error[i];
    f->room->error[openings] = 0.0; /* sills */
    for (size_t s = 0; s < c->count; s++) {
        const vugi_wall_top *top = vugi_wall_flood_top(bodies, walls,
            liquid ? c->floor[s] : c->ceiling[s]);
        f->level[s] = liquid ? -top->level : top->level;
        f->sill[s] = isinf(top->level) ? UINT32_MAX
                                       : seeded(top->opening < 0 ? openings : (size_t)top->opening);
    }
    return true;
}

void vugi_flood_free(const vugi_allocator *mem, vugi_flood *f)
{
    if (f->room) {
        vugi_front_free(mem, &f->room->front);
        vugi_free(mem, f->room->column);
        vugi_free(mem, f->room->error);
        vugi_free(mem, f->room);
    }
    vugi_free(mem, f->level);
    vugi_free(mem, f->sill);
    vugi_free(mem, f->sharp);
    *f = (vugi_flood){.level = NULL};
}

uint32_t vugi_flood_sill(const vugi_flood *f, size_t span, double *seed_error)
{
    uint32_t sill = f->sill[span], seeds = (uint32_t)f->room->seed_count;
    bool seeded = sill != UINT32_MAX && sill >= UINT32_MAX - seeds;
    *seed_error = seeded ? f->room->error[UINT32_MAX - 1 - sill] : 0.0;
    return seeded ? UINT32_MAX : sill;
}

const vugi_sharp *vugi_flood_sharp(const vugi_flood *f, uint32_t sill)
{
    for (size_t i = 0; i < f->sharp_count; i++)
        if (f->sharp[i].sill == sill)
            return f->sharp + i;
    return NULL;
}

uint32_t vugi_flood_column(const vugi_flood *f, size_t span)
{
    return f->room->column[span];
}
