/* SPDX-License-Identifier: MIT
 * A flood of air from the outlets down along the ceilings, which are lowered on its way. */
#include "shape/hollow/lower.h"

#include "base/heap.h"

#include <math.h>
#include <string.h>

typedef struct offer {
    double level, ceiling;
    uint32_t span, parent;
} offer;

typedef struct flood {
    vugi_uprights *u;
    const vugi_lowering *how; /* NULL: nothing is lowered */
    bool made;                /* ceilings are as made, not hi */
    offer *heap;
    size_t count, room;
    bool no_memory;
} flood;

static bool before(const void *a, const void *b)
{
    const offer *p = a, *q = b;
    if (p->level != q->level)
        return p->level > q->level;
    if (p->ceiling != q->ceiling)
        return p->ceiling > q->ceiling;
    return p->span != q->span ? p->span < q->span : p->parent < q->parent;
}

static void push(flood *f, offer o)
{
    vugi_upright *s = f->u->span + o.span;
    if (f->u->flooded[o.span] || o.level <= s->level)
        return;
    if (!vugi_reserve(&f->u->ctx->mem, &f->heap, &f->room, f->count + 1, sizeof *f->heap)) {
        f->no_memory = true;
        return;
    }
    s->level = o.level;
    vugi_heap_push(f->heap, &f->count, sizeof *f->heap, &o, before);
}

/* The ceiling that span s gets if its air leaves by t, that far across. */
static double ceiling_by(const flood *f, const vugi_upright *t, const vugi_upright *s,
    double across)
{
    if (!f->how)
        return f->made ? s->ceiling : s->hi;
    double sloped = t->level - f->how->slope * across;
    double least = fmax(fmax(s->deep, s->need), fmin(t->level, s->lo + f->how->clear));
    return fmin(s->hi, fmax(sloped, least));
}

static void reach(flood *f, uint32_t from, uint32_t to, double across)
{
    const vugi_upright *t = f->u->span + from, *s = f->u->span + to;
    double ceiling = ceiling_by(f, t, s, across), floor = fmax(t->lo, s->lo);
    if (ceiling > floor && t->ceiling > floor)
        push(f, (offer){fmin(t->level, ceiling), ceiling, to, from});
}

/* Air goes from t to a span at a corner only beside a third that both touch. */
static void reach_corners(flood *f, uint32_t from, uint32_t beside, int side, double across)
{
    const vugi_upright *t = f->u->span + from, *m = f->u->span + beside;
    for (int turn = 0; turn < 2; turn++) {
        size_t range[2];
        if (!vugi_uprights_beside(f->u, beside, side < 2 ? 2 + turn : turn, range))
            continue;
        for (size_t s = range[0]; s < range[1]; s++) {
            const vugi_upright *o = f->u->span + s;
            if (fmax(o->lo, fmax(m->lo, t->lo)) < fmin(o->hi, fmin(m->hi, t->ceiling)))
                reach(f, from, (uint32_t)s, across);
        }
    }
}

static void spread(flood *f, uint32_t from)
{
    double h = f->u->grid->h;
    for (int side = 0; side < 4; side++) {
        size_t range[2];
        if (!vugi_uprights_beside(f->u, from, side, range))
            continue;
        for (size_t s = range[0]; s < range[1]; s++) {
            if (!vugi_uprights_touch(f->u->span + from, f->u->span + s))
                continue;
            reach(f, from, (uint32_t)s, h);
            if (f->how)
                reach_corners(f, from, (uint32_t)s, side, sqrt(2.0) * h);
        }
    }
}

static vug_status run(flood *f)
{
    vugi_uprights *u = f->u;
    vug_status status = VUG_OK;
    memset(u->flooded, 0, u->count);
    u->reached = 0;
    for (size_t s = 0; s < u->count; s++) {
        u->span[s].level = -INFINITY;
        u->span[s].parent = VUGI_NO_UPRIGHT;
    }
    for (uint32_t s = 0; s < u->count; s++)
        if (u->root[s] == s) {
            uint32_t out = u->outlet[s];
            double top = f->made ? u->span[out].ceiling : u->span[out].hi;
            push(f, (offer){top, top, out, VUGI_NO_UPRIGHT});
        }
    while (f->count && !f->no_memory && !status) {
        offer o;
        vugi_heap_pop(f->heap, &f->count, sizeof o, &o, before);
        if (u->flooded[o.span])
            continue;
        u->flooded[o.span] = 1;
        u->order[u->reached++] = o.span;
        u->span[o.span].level = o.level;
        u->span[o.span].ceiling = o.ceiling;
        u->span[o.span].parent = o.parent;
        spread(f, o.span);
        if (u->reached % 65536 == 0)
            status = vugi_step(u->ctx, 0.0);
    }
    vugi_free(&u->ctx->mem, f->heap);
    return f->no_memory ? vugi_fail_memory(u->ctx) : status;
}

/* ---- what the flood did not reach ------------------------------------------------------ */

typedef struct rest {
    vugi_uprights *u;
    double clear;
    uint32_t *stack; /* the spans of one piece, one after the other */
    size_t count;
    bool stays;
} rest;

/* All spans that hang together with this one and were not reached. */
static void gather(rest *r, uint32_t start)
{
    vugi_uprights *u = r->u;
    r->count = 0;
    r->stays = false;
    r->stack[r->count++] = start;
    u->flooded[start] = 2;
    for (size_t at = 0; at < r->count; at++) {
        const vugi_upright *s = u->span + r->stack[at];
        r->stays = r->stays || s->deep > s->lo || s->need > s->lo;
        for (int side = 0; side < 4; side++) {
            size_t range[2];
            if (!vugi_uprights_beside(u, r->stack[at], side, range))
                continue;
            for (size_t t = range[0]; t < range[1]; t++)
                if (!u->flooded[t] && vugi_uprights_touch(s, u->span + t)) {
                    u->flooded[t] = 2;
                    r->stack[r->count++] = (uint32_t)t;
                }
        }
    }
}

/* The ceilings of what was reached go up to where the piece meets them, so that it has a way out for liquid. */
static void open_mouth(const rest *r, uint32_t s)
{
    vugi_uprights *u = r->u;
    for (int side = 0; side < 4; side++) {
        size_t range[2];
        if (!vugi_uprights_beside(u, s, side, range))
            continue;
        for (size_t t = range[0]; t < range[1]; t++) {
            vugi_upright *o = u->span + t;
            if (u->flooded[t] == 1 && vugi_uprights_touch(u->span + s, o))
                o->ceiling = fmax(o->ceiling, fmin(o->hi, fmax(o->lo, u->span[s].lo) + r->clear));
        }
    }
}

static void settle_rest(const rest *r)
{
    vugi_uprights *u = r->u;
    for (size_t i = 0; i < r->count; i++) {
        vugi_upright *s = u->span + r->stack[i];
        s->ceiling = r->stays ? s->hi : s->lo - u->grid->h;
        if (r->stays)
            open_mouth(r, r->stack[i]);
    }
}

vug_status vugi_lower(vugi_uprights *u, const vugi_lowering *how)
{
    flood f = {.u = u, .how = how};
    vug_status status = run(&f);
    if (status)
        return status;
    rest r = {.u = u, .clear = how ? how->clear : 0.0};
    r.stack = vugi_alloc(&u->ctx->mem, u->count, sizeof *r.stack);
    if (!r.stack)
        return vugi_fail_memory(u->ctx);
    for (uint32_t s = 0; s < u->count; s++)
        if (!u->flooded[s]) {
            gather(&r, s);
            r.stays = r.stays || !how;
            settle_rest(&r);
        }
    vugi_free(&u->ctx->mem, r.stack);
    return VUG_OK;
}

vug_status vugi_lower_check(vugi_uprights *u)
{
    flood f = {.u = u, .made = true};
    return run(&f);
}
