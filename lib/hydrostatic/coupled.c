/* SPDX-License-Identifier: MIT
 * Gathers what hangs together: a pool, the closed air over its surfaces, the pools under that air. Air
 * with a way out has the pressure outside, so nothing hangs together through it. */
#include "hydrostatic/coupled.h"

#include <assert.h>
#include <math.h>

bool vugi_coupled_alloc(vugi_coupled *b, vugi_run *run, double compressibility)
{
    const vugi_allocator *mem = &run->scene->mem;
    size_t arcs = run->g->arc_count;
    *b = (vugi_coupled){.run = run,
        .balance = {.mem = *mem, .graph = run->g, .compressibility = compressibility}};
    b->press = vugi_calloc(mem, arcs, sizeof *b->press);
    b->pool = vugi_alloc(mem, arcs, sizeof *b->pool);
    b->air = vugi_alloc(mem, arcs, sizeof *b->air);
    return b->press && b->pool && b->air;
}

void vugi_coupled_free(vugi_coupled *b)
{
    const vugi_allocator *mem = &b->balance.mem;
    if (!b->run)
        return;
    vugi_free(mem, b->press);
    vugi_free(mem, b->pool);
    vugi_free(mem, b->air);
    vugi_balance_free(&b->balance);
}

void vugi_coupled_clear(vugi_coupled *b)
{
    for (size_t i = 0; i < b->run->g->arc_count; i++)
        b->pool[i] = b->air[i] = VUGI_NONE;
    b->balance.bodies = b->balance.surfaces = 0;
}

/* ---- surfaces --------------------------------------------------------------------- */

uint32_t vugi_air_over(const vugi_run *r, uint32_t arc)
{
    assert(arc < r->g->arc_count);
    return vugi_links_air_over(r->g, r->level, &r->links, arc);
}

/* The air that bubbles reach that rise in an arc with liquid. */
static uint32_t air_above(const vugi_run *r, uint32_t arc)
{
    assert(arc < r->g->arc_count);
    const vugi_graph *g = r->g;
    for (;;) {
        uint32_t air = vugi_air_over(r, arc);
        const vugi_node *to = g->node + g->arc[arc].to;
        if (air != VUGI_NONE || to->ups == 0)
            return air;
        arc = g->link[to->link + to->downs];
    }
}

uint32_t vugi_air_beside(const vugi_run *r, uint32_t arc, bool *bare)
{
    assert(arc < r->g->arc_count);
    const vugi_graph *g = r->g;
    const vugi_node *from = g->node + g->arc[arc].from;
    uint32_t air = VUGI_NONE;
    *bare = from->downs > 0;
    for (uint32_t k = from->link + from->downs; k < from->link + from->downs + from->ups; k++) {
        uint32_t beside = g->link[k];
        if (r->level[beside] <= g->arc[beside].lo)
            continue;
        *bare = false;
        air = air == VUGI_NONE ? air_above(r, beside) : air;
    }
    return air;
}

/* The next things that happen to a surface: above as vugi_run_next() has it; below an end
 * of its arc, or a rim by which closed air gets out. */
static void set_range(const vugi_run *r, vugi_surface *s, bool closed)
{
    const vugi_arc *arc = r->g->arc + s->arc;
    s->lo = arc->lo;
    s->hi = vugi_run_next(r, s->arc);
    for (size_t i = 0; i < r->scene->vent_count && closed; i++) {
        const vugi_port *p = r->scene->vent + i;
        double rim = fmax(p->z, arc->lo + r->tolerance);
        if (p->arc == s->arc && r->task->air_open[p->mouth] && rim <= s->from)
            s->lo = fmax(s->lo, rim);
    }
}

static bool add_surface(vugi_coupled *b, uint32_t arc, uint32_t pool, uint32_t air)
{
    assert(pool < b->balance.bodies && air < b->balance.bodies);
    vugi_body *a = b->balance.body + air;
    vugi_surface s = {.arc = arc, .pool = pool, .air = air, .from = b->run->level[arc]};
    double volume = vugi_arc_volume(b->run->g, arc, s.from);
    s.z = s.from;
    set_range(b->run, &s, !a->vented);
    b->balance.body[pool].amount += volume;
    a->whole -= a->vented ? 0.0 : b->run->g->arc[arc].volume - volume;
    return vugi_balance_surface(&b->balance, s);
}

/* ---- bodies ------------------------------------------------------------------------- */

bool vugi_coupled_air(vugi_coupled *b, uint32_t air, uint32_t *body)
{
    assert(air < b->run->links.air_count);
    const vugi_run *r = b->run;
    double press = 0.0;
    if ((*body = b->air[air]) != VUGI_NONE)
        return true;
    vugi_body o = {.air = true, .vented = r->links.vented[air], .tied = VUGI_NONE, .to = VUGI_NONE};
    for (uint32_t a = 0; a < r->g->arc_count && !o.vented; a++) {
        if (r->links.air[a] != air)
            continue;
        double volume = r->g->arc[a].volume - vugi_arc_volume(r->g, a, r->level[a]);
        o.whole += volume;
        o.amount += volume * (1.0 + b->balance.compressibility * b->press[a]);
        press += volume * b->press[a];
    }
    o.head = o.whole > 0.0 ? press / o.whole : 0.0;
    if (!vugi_balance_body(&b->balance, o, body))
        return false;
    b->air[air] = *body;
    return true;
}

static bool is_dry(const vugi_run *r, uint32_t arc)
{
    assert(arc < r->g->arc_count);
    return r->links.pool[arc] == VUGI_NONE;
}

static bool add_dry(vugi_coupled *b, uint32_t arc, uint32_t *body)
{
    vugi_body o = {.tied = VUGI_NONE, .to = VUGI_NONE};
    uint32_t air;
    for (size_t i = 0; i < b->balance.surfaces; i++)
        if (b->balance.surface[i].arc == arc) {
            *body = b->balance.surface[i].pool;
            return true;
        }
    if (!vugi_coupled_air(b, b->run->links.air[arc], &air))
        return false;
    o.head = b->run->g->arc[arc].lo + b->balance.body[air].head;
    return vugi_balance_body(&b->balance, o, body) && add_surface(b, arc, *body, air);
}

/* How well a surface tells the head of its pool: best if it is free to move, and open. One at an end of its arc may
 * be held there: at the lower end of an open arc the pool may draw, and the air in another arc hold it up. */
static int witness(const vugi_run *r, uint32_t arc, const vugi_body *air)
{
    const vugi_arc *a = r->g->arc + arc;
    return 2 * (r->level[arc] > a->lo && r->level[arc] < a->hi) + air->vented;
}

/* Surfaces of a pool, and the air over them. */
static bool add_pool(vugi_coupled *b, uint32_t pool, uint32_t *body)
{
    assert(pool < b->run->links.pool_count);
    const vugi_run *r = b->run;
    uint32_t air, over;
    int best = -1;
    if (!vugi_balance_body(&b->balance, (vugi_body){.tied = VUGI_NONE, .to = VUGI_NONE}, body))
        return false;
    b->pool[pool] = *body;
    for (uint32_t a = 0; a < r->g->arc_count; a++) {
        if (r->links.pool[a] != pool || (over = vugi_air_over(r, a)) == VUGI_NONE)
            continue;
        if (!vugi_coupled_air(b, over, &air) || !add_surface(b, a, *body, air))
            return false;
        int rank = witness(r, a, b->balance.body + air);
        if (rank > best)
            b->balance.body[*body].head = r->level[a] + b->balance.body[air].head;
        best = rank > best ? rank : best;
    }
    return true;
}

/* A pool not gathered yet that touches closed air which is; VUGI_NONE: there is none. */
static uint32_t next_pool(const vugi_coupled *b)
{
    const vugi_run *r = b->run;
    for (uint32_t a = 0; a < r->g->arc_count; a++) {
        uint32_t over;
        if (is_dry(r, a) || b->pool[r->links.pool[a]] != VUGI_NONE
            || (over = vugi_air_over(r, a)) == VUGI_NONE)
            continue;
        if (b->air[over] != VUGI_NONE && !b->balance.body[b->air[over]].vented)
            return r->links.pool[a];
    }
    return VUGI_NONE;
}

/* A surface at an end of its arc may be held there: it is not amiss. */
static void set_misfits(vugi_balance *b, size_t first, double tolerance)
{
    for (size_t i = first; i < b->surfaces; i++) {
        vugi_surface *s = b->surface + i;
        const vugi_arc *arc = b->graph->arc + s->arc;
        double misfit = s->from - (b->body[s->pool].head - b->body[s->air].head);
        bool free = s->from > arc->lo && s->from < arc->hi;
        s->misfit = free && fabs(misfit) > 10.0 * tolerance ? misfit : 0.0;
    }
}

bool vugi_coupled_pool(vugi_coupled *b, uint32_t arc, uint32_t *body)
{
    assert(arc < b->run->g->arc_count);
    uint32_t pool = b->run->links.pool[arc], other;
    size_t first = b->balance.surfaces;
    if (pool == VUGI_NONE)
        return add_dry(b, arc, body);
    if ((*body = b->pool[pool]) != VUGI_NONE)
        return true;
    if (!add_pool(b, pool, body))
        return false;
    while ((pool = next_pool(b)) != VUGI_NONE)
        if (!add_pool(b, pool, &other))
            return false;
    set_misfits(&b->balance, first, b->run->tolerance);
    return true;
}

/* ---- running over ------------------------------------------------------------------- */

static bool leads_to(const vugi_balance *b, uint32_t from, uint32_t body, bool by_amount)
{
    for (uint32_t i = from; i != VUGI_NONE;) {
        if (i == body)
            return true;
        if (b->body[i].tied == VUGI_NONE)
            return false;
        i = by_amount ? b->body[i].to : b->body[i].tied;
    }
    return false;
}

/* Of two ways out the one that is wanted later is the lower; wanted in turn, they are left alone. */
static void tie(vugi_balance *b, vugi_surface *s, uint32_t body, uint32_t by, double tie,
    uint32_t to)
{
    assert(body < b->bodies && by < b->bodies);
    vugi_body *o = b->body + body;
    uint32_t tied = o->tied;
    o->tied = VUGI_NONE;
    if (o->vented || s->tries++ > 2 || leads_to(b, by, body, false)
        || leads_to(b, to, body, true)) {
        o->tied = tied;
        s->fixed = true;
        return;
    }
    o->tied = by;
    o->tie = tie;
    o->to = to;
}

void vugi_coupled_run_over(vugi_coupled *b, size_t surface, uint32_t to)
{
    assert(surface < b->balance.surfaces);
    vugi_surface *s = b->balance.surface + surface;
    tie(&b->balance, s, s->pool, s->air, s->from, to);
}

void vugi_coupled_escape(vugi_coupled *b, size_t surface, uint32_t to)
{
    assert(surface < b->balance.surfaces);
    vugi_surface *s = b->balance.surface + surface;
    tie(&b->balance, s, s->air, s->pool, -s->from, to);
}

/* ---- pressures to begin with ---------------------------------------------------------- */

/* The head of a pool by its highest surface, or by its highest open one if it has any. */
static double head_by_levels(const vugi_run *r, uint32_t pool)
{
    double open = -INFINITY, closed = -INFINITY;
    for (uint32_t a = 0; a < r->g->arc_count; a++) {
        uint32_t air = r->links.pool[a] == pool ? vugi_air_over(r, a) : VUGI_NONE;
        if (air == VUGI_NONE)
            continue;
        if (r->links.vented[air])
            open = fmax(open, r->level[a]);
        else
            closed = fmax(closed, r->level[a]);
    }
    return isfinite(open) ? open : closed;
}

void vugi_coupled_press(vugi_coupled *b)
{
    const vugi_run *r = b->run;
    for (uint32_t pool = 0; pool < r->links.pool_count; pool++) {
        double head = head_by_levels(r, pool);
        for (uint32_t a = 0; a < r->g->arc_count; a++) {
            uint32_t air = r->links.pool[a] == pool ? vugi_air_over(r, a) : VUGI_NONE;
            if (air == VUGI_NONE || r->links.vented[air])
                continue;
            for (uint32_t c = 0; c < r->g->arc_count; c++)
                if (r->links.air[c] == air)
                    b->press[c] = head - r->level[a];
        }
    }
}
