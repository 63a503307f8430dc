/* SPDX-License-Identifier: MIT
 * The fill without hurry, under air that gives. A bit of liquid at a time comes in, as far as the next
 * event: a surface at an end of its arc, at a rim or at a lip. Liquid that is full to a sill runs
 * over into the next basin, air that is pushed down to the lower end of its arc bubbles away; for
 * both the surface stays where it is and the amounts go on. */
#include "hydrostatic/compressible.h"

#include "base/root.h"
#include "hydrostatic/coupled.h"

#include <math.h>
#include <string.h>

enum { PARTS = 48, TRIES = 180 };

typedef struct compressing {
    vugi_run r;
    const vugi_compressible *task;
    vugi_coupled b;
    bool *over;             /* of each arc: its surface ran over or let air escape just now */
    uint32_t *link, *basin; /* of each arc that runs over: by which link, into which basin */
    uint32_t fed;           /* body that liquid comes to */
    double peak;
    uint32_t bared; /* node that the liquid over it leaves, or VUGI_NONE */
    bool back;      /* liquid flows back through the inlet */
} compressing;

static double snap(const compressing *p)
{
    return 10.0 * p->r.tolerance;
}

/* ---- the inlet ---------------------------------------------------------------------- */

/* Height of liquid that the pressure at the inlet would carry; after a trial, what it came to. */
static double inlet_head(const compressing *p)
{
    const vugi_run *r = &p->r;
    const vugi_scene_mouth *m = r->scene->mouth + r->task->inlet[0];
    bool under;
    uint32_t arc = vugi_run_inlet(r, r->task->inlet[0], &under);
    if (arc == VUGI_NONE)
        return 0.0;
    if (under) { /* by the pool there, or by what has just come to a dry arc */
        uint32_t pool = r->links.pool[arc], body = pool == VUGI_NONE ? p->fed : p->b.pool[pool];
        body = body == VUGI_NONE ? p->fed : body;
        return p->b.balance.body[body].head - 0.5 * (m->top + m->lip);
    }
    uint32_t air = p->b.air[r->links.air[arc]];
    return air != VUGI_NONE ? p->b.balance.body[air].head : p->b.press[arc];
}

static bool inlet_under(const compressing *p)
{
    bool under;
    vugi_run_inlet(&p->r, p->r.task->inlet[0], &under);
    return under;
}

/* ---- one trial ---------------------------------------------------------------------- */

/* How far past its next event the worst surface is that was not there already. */
static double past(const compressing *p, bool limited)
{
    double worst = -INFINITY;
    for (size_t i = 0; i < p->b.balance.surfaces; i++) {
        const vugi_surface *s = p->b.balance.surface + i;
        if (s->fixed)
            continue;
        if (s->from < s->hi)
            worst = fmax(worst, s->z - s->hi);
        if (s->from > s->lo)
            worst = fmax(worst, s->lo - s->z);
    }
    if (limited)
        worst = fmax(worst, p->back ? -inlet_head(p) : inlet_head(p) - p->task->inlet_head);
    return worst;
}

/* The part of the feed after which the first event comes, by regula falsi (Illinois), and by halves where that is slow:
 * beside a small arc that fills past its end the heads bend sharply. */
static bool find_part(compressing *p, bool limited, double *part)
{
    vugi_balance *b = &p->b.balance;
    vugi_bracket e = {.lo = 0.0, .hi = 1.0};
    double small = 0.01 * p->r.tolerance;
    *part = 1.0;
    if (!vugi_balance_solve(b, 0.0))
        return false;
    e.at_lo = past(p, limited);
    if (!vugi_balance_solve(b, 1.0))
        return false;
    e.at_hi = past(p, limited);
    if (e.at_hi <= small)
        return true;
    e.at_lo = fmin(e.at_lo, -small);
    double width = e.hi - e.lo;
    for (int i = 0; i < TRIES && e.at_hi > small && e.hi - e.lo > 1e-15; i++) {
        bool slow = i % 3 == 2 && e.hi - e.lo > 0.5 * width;
        double mid = slow ? 0.5 * (e.lo + e.hi) : vugi_bracket_guess(&e);
        width = i % 3 == 2 ? e.hi - e.lo : width;
        if (!vugi_balance_solve(b, mid))
            return false;
        double at = past(p, limited);
        vugi_bracket_move(&e, !(at > -small), mid, at);
    }
    *part = e.hi;
    return vugi_balance_solve(b, e.hi);
}

/* ---- surfaces at an end that want to go on --------------------------------------------- */

static vug_status run_over(compressing *p, size_t surface)
{
    vugi_run *r = &p->r;
    uint32_t arc = p->b.balance.surface[surface].arc, basin, to;
    uint32_t k = vugi_run_overflow(r, arc, false), pool = r->links.pool[arc];
    if (k == VUGI_NONE || pool == VUGI_NONE) {
        p->b.balance.surface[surface].fixed = true;
        return VUG_OK;
    }
    vug_status status = vugi_run_way_down(r, pool, k, &basin);
    if (status)
        return status;
    if (basin == VUGI_NONE || r->links.pool[basin] == pool)
        basin = vugi_basin_below(r->g, r->g->link[k]);
    if (!vugi_coupled_pool(&p->b, basin, &to))
        return vugi_fail_memory(r->ctx);
    vugi_coupled_run_over(&p->b, surface, to);
    p->over[arc] = true;
    p->link[arc] = k;
    p->basin[arc] = basin;
    return VUG_OK;
}

/* Air at the lower end of an arc under liquid rises beside it, if there is another way up. */
static vug_status escape(compressing *p, size_t surface)
{
    const vugi_run *r = &p->r;
    vugi_surface *s = p->b.balance.surface + surface;
    uint32_t arc = s->arc, to = VUGI_NONE;
    if (s->from > r->g->arc[arc].lo) { /* at a rim: outside */
        vugi_coupled_escape(&p->b, surface, VUGI_NONE);
        p->over[arc] = true;
        return VUG_OK;
    }
    bool bare;
    uint32_t air = vugi_air_beside(r, arc, &bare);
    if (bare) { /* air all around: the liquid leaves the node */
        p->bared = r->g->arc[arc].from;
        return VUG_OK;
    }
    if (air == VUGI_NONE) {
        s->fixed = true;
        return VUG_OK;
    }
    if (!vugi_coupled_air(&p->b, air, &to))
        return vugi_fail_memory(r->ctx);
    vugi_coupled_escape(&p->b, surface, to);
    p->over[arc] = true;
    return VUG_OK;
}

/* The one surface at an end of its range that is furthest past it; none: surfaces. */
static size_t pressing_on(const compressing *p)
{
    const vugi_balance *b = &p->b.balance;
    size_t worst = b->surfaces;
    double by = snap(p);
    for (size_t i = 0; i < b->surfaces; i++) {
        const vugi_surface *s = b->surface + i;
        double past = s->from >= s->hi ? s->z - s->hi : 0.0;
        if (s->from <= s->lo)
            past = fmax(past, s->lo - s->z);
        if (!s->fixed && past > by) {
            by = past;
            worst = i;
        }
    }
    return worst;
}

static vug_status go_on(compressing *p, size_t surface)
{
    const vugi_surface *s = p->b.balance.surface + surface;
    bool up = s->from >= s->hi && s->z > s->hi;
    vug_status status = up ? run_over(p, surface) : escape(p, surface);
    if (!status && !vugi_balance_ready(&p->b.balance))
        status = vugi_fail_memory(p->r.ctx);
    return status;
}

/* A body that takes in through its overflow does not run over. */
static bool drop_backward(compressing *p)
{
    vugi_balance *b = &p->b.balance;
    double worst = -1e-12 * p->r.g->capacity;
    uint32_t drop = VUGI_NONE;
    for (uint32_t i = 0; i < b->bodies; i++) {
        double left = b->body[i].tied != VUGI_NONE ? vugi_balance_left(b, i) : 0.0;
        if (left < worst) {
            worst = left;
            drop = i;
        }
    }
    if (drop == VUGI_NONE)
        return false;
    b->body[drop].tied = b->body[drop].to = VUGI_NONE;
    for (size_t i = 0; i < b->surfaces; i++) {
        const vugi_surface *s = b->surface + i;
        if ((s->pool == drop && s->from >= s->hi) || (s->air == drop && s->from <= s->lo))
            p->over[s->arc] = false;
    }
    return true;
}

/* What ran over in the step before does so still, until it shows that it does not. */
static vug_status resume(compressing *p)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; i < p->b.balance.surfaces && !status; i++) {
        const vugi_surface *s = p->b.balance.surface + i;
        if (!p->over[s->arc])
            continue;
        p->over[s->arc] = false;
        if (s->from >= s->hi && s->hi >= p->r.g->arc[s->arc].hi)
            status = run_over(p, i);
        else if (s->from <= s->lo && !p->b.balance.body[s->air].vented)
            status = escape(p, i);
    }
    return status;
}

/* The first event of the step, with all that runs over on the way to it. */
static vug_status balance(compressing *p, bool limited, double *part, bool *found)
{
    vugi_balance *b = &p->b.balance;
    size_t drops = 0;
    vug_status status = resume(p);
    *found = false;
    if (!status && !vugi_balance_ready(b))
        status = vugi_fail_memory(p->r.ctx);
    for (size_t i = 0; !status && i < 4 * p->r.g->arc_count + 16; i++) {
        if (!find_part(p, limited, part))
            return VUG_OK;
        size_t surface = pressing_on(p);
        if (surface < b->surfaces)
            status = go_on(p, surface);
        else if (drops++ > b->bodies || !drop_backward(p))
            break;
        if (p->bared != VUGI_NONE)
            return status;
    }
    *found = !status;
    return status;
}

/* ---- one step -------------------------------------------------------------------------- */

/* An opening at whose lip liquid stands already, and now rises. */
static bool spills_at_once(compressing *p)
{
    vugi_run *r = &p->r;
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *port = r->scene->lip + i;
        for (size_t k = 0; k < p->b.balance.surfaces; k++) {
            const vugi_surface *s = p->b.balance.surface + k;
            bool rises = s->arc == port->arc && port->z <= s->from + r->tolerance
                && s->z > s->from + r->tolerance;
            if (rises && vugi_run_can_spill(r, port) && !vugi_run_spill(r, port))
                return false;
        }
    }
    return true;
}

static bool check_lips(compressing *p)
{
    vugi_run *r = &p->r;
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *port = r->scene->lip + i;
        bool rose = r->level[port->arc] >= port->z - r->tolerance
            && r->level[port->arc] > r->before[port->arc];
        if (rose && vugi_run_can_spill(r, port) && !vugi_run_spill(r, port))
            return false;
    }
    return true;
}

/* Sills that liquid went over in the trial, and basins that it came to. */
static vug_status note_sills(compressing *p)
{
    const vugi_balance *b = &p->b.balance;
    vug_status status = VUG_OK;
    for (size_t i = 0; i < b->surfaces && !status; i++) {
        const vugi_surface *s = b->surface + i;
        const vugi_body *pool = b->body + s->pool;
        bool runs = p->over[s->arc] && !s->fixed && pool->tied == s->air && pool->tie == s->from
            && s->from >= s->hi;
        if (runs)
            status = vugi_run_sill(&p->r, p->r.g->arc[s->arc].to, p->link[s->arc]);
        if (runs && !status)
            status = vugi_run_reach(&p->r, p->basin[s->arc]);
    }
    return status;
}

/* Levels and pressures of the trial become those of now. */
static void accept(compressing *p)
{
    vugi_run *r = &p->r;
    const vugi_coupled *b = &p->b;
    for (size_t i = 0; i < b->balance.surfaces; i++) {
        const vugi_surface *s = b->balance.surface + i;
        double z = fmax(s->lo, fmin(s->hi, s->z));
        if (s->hi - z <= snap(p))
            z = s->hi;
        else if (z - s->lo <= snap(p))
            z = s->lo;
        r->level[s->arc] = s->fixed ? s->from : z;
        b->press[s->arc] = b->balance.body[s->air].head;
    }
    for (uint32_t a = 0; a < r->g->arc_count; a++) {
        uint32_t air = r->links.air[a];
        if (air != VUGI_NONE && b->air[air] != VUGI_NONE)
            b->press[a] = b->balance.body[b->air[air]].head;
    }
    r->liquid = vugi_levels_volume(r->g, r->level);
}

/* All surfaces that moved stand at one level, or have filled their arcs. */
static bool together(const compressing *p)
{
    const vugi_run *r = &p->r;
    double lo = INFINITY, hi = -INFINITY;
    for (uint32_t a = 0; a < r->g->arc_count; a++) {
        if (r->level[a] == r->before[a])
            continue;
        if (r->level[a] < r->before[a])
            return false;
        hi = fmax(hi, r->level[a]);
        if (r->level[a] < r->g->arc[a].hi)
            lo = fmin(lo, r->level[a]);
    }
    return isinf(lo) || hi - lo <= snap(p);
}

static vug_status record(compressing *p)
{
    vugi_run *r = &p->r;
    double head = inlet_head(p);
    p->peak = fmax(p->peak, head);
    vugi_frame frame = {.liquid = r->liquid, .pressure = fmax(0.0, head), .together = together(p)};
    bool ok = check_lips(p) && vugi_run_rims(r) && vugi_run_merges(r) && vugi_run_look(r);
    frame.liquid = r->liquid;
    if (!ok || !vugi_run_frame(r, frame))
        return vugi_fail_memory(r->ctx);
    for (uint32_t a = 0; a < r->g->arc_count; a++)
        if (r->links.air[a] != VUGI_NONE && r->links.vented[r->links.air[a]]) {
            r->sealed[a] = false;
            p->b.press[a] = 0.0;
        }
    return VUG_OK;
}

/* ---- the run --------------------------------------------------------------------------- */

static bool can_rise(const vugi_balance *b)
{
    for (size_t i = 0; i < b->surfaces; i++)
        if (b->body[b->surface[i].air].vented)
            return true;
    return false;
}

static bool at_rest(const vugi_balance *b)
{
    for (size_t i = 0; i < b->surfaces; i++)
        if (b->surface[i].misfit != 0.0)
            return false;
    return true;
}

/* What hangs together with the inlet, and what is to come in. *limited: the inlet's pressure says how
 * much. false: nothing more. */
static vug_status begin(compressing *p, bool *limited, bool *more)
{
    vugi_run *r = &p->r;
    uint32_t arc = vugi_run_start(r, r->task->inlet[0]);
    double feed = r->g->capacity / PARTS;
    *more = *limited = false;
    vugi_coupled_clear(&p->b);
    if (arc == VUGI_NONE)
        return VUG_OK;
    if (!vugi_coupled_pool(&p->b, arc, &p->fed))
        return vugi_fail_memory(r->ctx);
    p->bared = VUGI_NONE;
    *more = true;
    if (!at_rest(&p->b.balance))
        return VUG_OK;
    if (p->back) {
        *limited = true;
        *more = inlet_under(p) && inlet_head(p) > snap(p);
        feed = -feed;
    } else {
        *limited = !can_rise(&p->b.balance);
        *more = !*limited || inlet_head(p) < p->task->inlet_head - snap(p);
        feed = fmin(feed, r->task->volume - r->liquid);
    }
    p->b.balance.body[p->fed].feed = feed;
    return *more && r->links.pool[arc] == VUGI_NONE ? vugi_run_reach(r, arc) : VUG_OK;
}

static vug_status step(compressing *p, bool *done)
{
    vugi_run *r = &p->r;
    bool limited, found;
    double part;
    vug_status status = begin(p, &limited, &found);
    *done = !status && !found;
    if (!status && found)
        status = balance(p, limited, &part, &found);
    if (!status && p->bared != VUGI_NONE) {
        vugi_run_bare(r, p->bared, p->b.press);
        return vugi_run_look(r) ? VUG_OK : vugi_fail_memory(r->ctx);
    }
    if (!status && !found) {
        *done = true;
        r->history->end = vugi_run_end(r);
    }
    if (status || *done)
        return status;
    if ((status = note_sills(p)))
        return status;
    if (!spills_at_once(p))
        return vugi_fail_memory(r->ctx);
    if (!r->stopped) {
        accept(p);
        *done = memcmp(r->level, r->before, r->g->arc_count * sizeof *r->level) == 0;
        if (*done)
            r->history->end = vugi_run_end(r);
        status = record(p);
    }
    if (!status && !p->back
        && (r->stopped || r->task->volume - r->liquid <= 1e-12 * r->g->capacity)) {
        *done = true;
        r->history->end = r->stopped ? VUG_END_SPILL : VUG_END_SUPPLY;
    }
    return status;
}

static vug_status run(compressing *p)
{
    vugi_run *r = &p->r;
    const vugi_scene *s = r->scene;
    bool done = false;
    size_t steps = 0;
    size_t limit = 4 * PARTS + 16 * (2 * r->g->arc_count + s->vent_count + s->lip_count);
    vug_status status = VUG_OK;
    while (!done && !status) {
        status = step(p, &done);
        if (!status && vugi_cancelled(r->ctx))
            status = vugi_step(r->ctx, 0.5);
        if (!status && ++steps > limit)
            status = vugi_fail(r->ctx, VUG_ERR_CONVERGENCE, "the fill did not end after %zu steps",
                steps);
    }
    return status;
}

static vug_status release(compressing *p, vugi_compressible_result *result)
{
    double before = p->r.liquid;
    int32_t end = p->r.history->end;
    p->back = true;
    vug_status status = run(p);
    p->r.history->end = end;
    result->returned = fmax(0.0, before - p->r.liquid);
    return status;
}

vug_status vugi_compressible_run(vug_context *ctx, const vugi_compressible *task,
    vugi_history *history, double *level, vugi_compressible_result *result)
{
    const vugi_scene *s = task->fill.scene;
    compressing p = {.task = task,
        .r = {.task = &task->fill,
            .scene = s,
            .g = &s->graph,
            .history = history,
            .ctx = ctx,
            .level = level,
            .pressed = task->inlet_head > 0.0 || task->release}};
    double compressibility = task->air_head > 0.0 && isfinite(task->air_head) ? 1.0 / task->air_head
                                                                              : 0.0;
    vug_status status = VUG_OK;
    *result = (vugi_compressible_result){.peak_head = 0.0};
    p.over = vugi_calloc(&s->mem, s->graph.arc_count, sizeof *p.over);
    p.link = vugi_alloc(&s->mem, s->graph.arc_count, sizeof *p.link);
    p.basin = vugi_alloc(&s->mem, s->graph.arc_count, sizeof *p.basin);
    if (!vugi_run_alloc(&p.r) || !vugi_coupled_alloc(&p.b, &p.r, compressibility) || !p.over
        || !p.link || !p.basin) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    vugi_run_begin(&p.r);
    if (!vugi_run_look(&p.r)
        || !vugi_run_frame(&p.r, (vugi_frame){.liquid = p.r.liquid, .together = true}))
        status = vugi_fail_memory(ctx);
    if (task->fill.start)
        vugi_coupled_press(&p.b);
    if (!status)
        status = run(&p);
    if (!status && history->end == VUG_END_FULL
        && !vugi_run_note(&p.r, VUG_EVENT_FULL, task->fill.inlet[0], VUGI_NONE, 0.0, 0.0))
        status = vugi_fail_memory(ctx);
    if (!status && task->release)
        status = release(&p, result);
    result->peak_head = p.peak;
done:
    vugi_free(&s->mem, p.over);
    vugi_free(&s->mem, p.link);
    vugi_free(&s->mem, p.basin);
    vugi_coupled_free(&p.b);
    vugi_run_free(&p.r);
    return status;
}
