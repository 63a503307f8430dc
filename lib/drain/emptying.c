/* SPDX-License-Identifier: MIT
 * Draining is filling upside down: air takes the place of liquid, comes in by the highest opening,
 * rises, spills from dome to dome; liquid leaves by the others, and what is cut off from all of them
 * stays behind. The order comes from the mirrored scene, the times from the flow through the openings
 * under the head of each moment. */
#include "drain/emptying.h"

#include "base/sort.h"
#include "drain/glug.h"
#include "drain/wall_film.h"
#include "drain/waters.h"

#include "course/course.h"
#include "flow/viscosity.h"
#include "gravity/mirror.h"
#include "hydrostatic/quasistatic.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- times -------------------------------------------------------------------------------- */

/* Surfaces that are so near their end, of the cavity and in mm, have come to it. */
static const double last_part = 1e-5, last_mm = 0.01;

/* Of what a place held, and what it gives in as much time again, of the capacity: a film. */
static const double film_part = 0.05, film_gain = 0.01;

/* Of what flows, as much may change within a step; steps shrink or grow to keep to it. */
static const double most_change = 0.25, least_change = 0.08;

enum { MOST_STEPS = 20000, TRIES = 40 };

/* So many rounds until flows agree are given to a whole drain: one of hundreds of steps takes some thousands. Where heads only
 * creep to their balance, step after step, no end is in sight. */
enum { MOST_ROUNDS = 100000 };

/* After so many more of them each the shortest step gets twice as long: what surfaces that are all but level do over and
 * over is not followed for ever. The steps are implicit, and stay stable. */
enum { PATIENCE = 5000 };

/* What came to its end and was filled again so often waits for what fills it. */
enum { OFTEN = 2 };

/* So many steps in a row that each move no more than rounding, of the capacity, and nothing moves: what is level with
 * all that it could run to may be kept from its end all the same. */
enum { STILL = 50 };
static const double rounding = 1e-12;

/* Two implicit stages, of second order, that damp what is stiff (Alexander 1977, SIAM J. Numer. Anal. 14:1006). */
static const double stage = 0.29289321881345248; /* 1 - 1 / sqrt 2 */

typedef struct drain_clock {
    vug_context *ctx;
    vug_course *course;
    const vugi_history *run; /* of the mirror */
    vugi_waters waters;
    double *level, *volume, *end; /* of each arc, as the drain goes; where it ends */
    double *shown;                /* levels of the last frame */
    double *after;                /* of each arc: what has run out when its turn comes, mm3 */
    double *given;                /* of each arc: what has run out of it, mm3 */
    double *began, *rate;         /* of each surface, within a step */
    unsigned *ended;              /* of each arc: how often it was let come to its end */
    double *glug;                 /* of each mouth, mm3/s */
    double *spilt;                /* of each arc: what runs over into it in a step, mm3 */
    bool *reached;                /* of each arc: air has come to its top */
    double drained, suction, time, dt;
    double
        shortest; /* s: surfaces that nothing parts any more come level at once, in however short a step */
    size_t patience;     /* rounds until the shortest gets longer */
    size_t steps, still; /* still: that moved nothing, in a row */
} drain_clock;

static const vugi_graph *graph_of(const drain_clock *c)
{
    return &c->course->scene->graph;
}

/* The highest open mouth, by which air comes in. */
static uint32_t highest(const vugi_scene *s, const bool *open)
{
    uint32_t best = VUGI_NONE;
    for (uint32_t m = 0; m < s->mouth_count; m++)
        if (open[m] && (best == VUGI_NONE || s->mouth[m].top > s->mouth[best].top))
            best = m;
    return best;
}

static double left_in(const drain_clock *c, uint32_t a)
{
    return fmax(0.0, c->volume[a] - vugi_arc_volume(graph_of(c), a, c->end[a]));
}

/* When each arc's turn comes, by the order of the mirror's run. */
static void set_turns(drain_clock *c)
{
    const vugi_graph *g = graph_of(c);
    for (uint32_t a = 0; a < g->arc_count; a++)
        c->after[a] = INFINITY;
    for (size_t i = 1; i < c->run->frame_count; i++) {
        const vugi_frame *f = c->run->frame + i;
        for (size_t k = 0; k < f->changes; k++) {
            const vugi_level *l = c->run->level + f->change + k;
            if (-l->z < c->level[l->arc])
                c->after[l->arc] = fmin(c->after[l->arc], f[-1].liquid - c->run->frame[0].liquid);
        }
    }
}

/* A mouth at the top of an arc lets air in there whatever happens elsewhere. */
static bool has_top_mouth(const drain_clock *c, uint32_t a)
{
    const vugi_scene *s = c->course->scene;
    for (size_t i = 0; i < s->vent_count; i++)
        if (s->vent[i].arc == a && c->course->open[s->vent[i].mouth]
            && s->vent[i].z >= s->graph.arc[a].hi)
            return true;
    return false;
}

/* What has run out is what does so before the turn of an arc: others may run out by openings of their own meanwhile. */
static bool is_its_turn(const drain_clock *c, uint32_t a)
{
    const vugi_graph *g = graph_of(c);
    const double enough = c->after[a] - 1e-6 * g->capacity;
    double given = 0.0;
    for (uint32_t b = 0; b < g->arc_count && c->drained >= enough && given < enough; b++)
        given += c->after[b] < c->after[a] ? c->given[b] : 0.0;
    return given >= enough;
}

/* Air comes from above once all is dry there, and else in its turn. */
static bool is_reached(const drain_clock *c, uint32_t a)
{
    const vugi_graph *g = graph_of(c);
    const vugi_node *n = g->node + g->arc[a].to;
    bool dry = false;
    for (uint32_t k = n->link + n->downs; k < n->link + n->downs + n->ups; k++) {
        uint32_t up = g->link[k];
        if (c->volume[up] > 0.0)
            return false;
        dry = true;
    }
    return dry || (n->ups == 0 && has_top_mouth(c, a)) || is_its_turn(c, a);
}

/* Returns whether some surface still has liquid to give. next: when none has, the arc whose turn is next goes on. */
static bool reach(drain_clock *c, bool next)
{
    const vugi_graph *g = graph_of(c);
    uint32_t first = VUGI_NONE;
    bool any = false;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (!(left_in(c, a) > 0.0))
            continue;
        c->reached[a] = c->reached[a] || is_reached(c, a);
        any = any || c->reached[a];
        if (!c->reached[a] && (first == VUGI_NONE || c->after[a] < c->after[first]))
            first = a;
    }
    if (any || !next || first == VUGI_NONE || isinf(c->after[first]))
        return any;
    c->reached[first] = true;
    return true;
}

/* Air comes up to a surface from a mouth under it too, once less presses there than outside. */
static double own_gate(const drain_clock *c, uint32_t arc)
{
    const vugi_scene *s = c->course->scene;
    double gate = -INFINITY;
    for (size_t i = 0; i < s->lip_count; i++) {
        uint32_t m = s->lip[i].mouth;
        const vugi_scene_mouth *mouth = s->mouth + m;
        if (s->lip[i].arc == arc && c->course->open[m] && m != c->waters.air)
            gate = fmax(gate, mouth->top - vugi_air_suction(c->waters.net.fluid, mouth, true, 0.0));
    }
    return gate;
}

/* Air of an arc passes its doors below their roofs, where liquid is on the other side. */
static double roof_beside(const drain_clock *c, uint32_t arc)
{
    const vugi_scene *s = c->course->scene;
    const vugi_graph *g = graph_of(c);
    double roof = -INFINITY;
    for (size_t i = 0; i < 2 * s->door_count; i++) {
        const vugi_door *d = s->door + i / 2;
        uint32_t to = d->arc[1 - i % 2];
        if (d->arc[i % 2] == arc && c->level[arc] < d->hi
            && c->level[to] >= fmin(d->hi, g->arc[to].hi))
            roof = fmax(roof, d->hi);
    }
    return roof;
}

/* Level at which the air of a surface that has no way out is kept: it comes up from dry arcs of the pool, or from the
 * air's mouth, or from its own. */
static double gate_of(const drain_clock *c, uint32_t arc)
{
    const vugi_waters *w = &c->waters;
    const vugi_graph *g = graph_of(c);
    double gate = -INFINITY;
    for (uint32_t b = 0; b < g->arc_count; b++)
        if (w->links.pool[b] != VUGI_NONE && w->links.pool[b] == w->links.pool[arc]
            && w->links.air[b] != VUGI_NONE && w->links.vented[w->links.air[b]])
            gate = fmax(gate, fmax(c->level[b], roof_beside(c, b)));
    if (isinf(gate)) {
        const vugi_scene_mouth *m = c->course->scene->mouth + w->air;
        gate = m->top - c->suction;
    }
    return fmin(c->level[arc], fmax(gate, own_gate(c, arc)));
}

/* Does liquid stand over an arc, as what ran over may do again? */
static bool is_under(const drain_clock *c, uint32_t arc)
{
    const vugi_graph *g = graph_of(c);
    const vugi_node *n = g->node + g->arc[arc].to;
    for (uint32_t k = n->link + n->downs; k < n->link + n->downs + n->ups; k++)
        if (c->volume[g->link[k]] > 0.0)
            return true;
    return false;
}

/* What comes through a door falls down to a dry floor. */
static bool is_fallen_on(const drain_clock *c, uint32_t arc)
{
    const vugi_scene *s = c->course->scene;
    bool fallen = false;
    for (size_t i = 0; i < 2 * s->door_count && !fallen; i++) {
        const vugi_door *d = s->door + i / 2;
        const int to = (int)(i % 2);
        fallen = vugi_door_reached(graph_of(c), c->level, d, 1 - to)
            && !vugi_door_reached(graph_of(c), c->level, d, to)
            && vugi_network_rest(graph_of(c), c->level, d->arc[to]) == arc;
    }
    return fallen;
}

static void set_surfaces(drain_clock *c)
{
    const vugi_graph *g = graph_of(c);
    vugi_waters *w = &c->waters;
    w->surfaces = 0;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        const vugi_arc *arc = g->arc + a;
        if (c->reached[a] && c->level[a] >= arc->hi && !is_under(c, a)) /* however short it is */
            c->level[a] = fmin(arc->hi - 1e-9 * (arc->hi - arc->lo), nextafter(arc->hi, arc->lo));
    }
    vugi_links_find(c->course->scene, c->level, c->course->open, &w->links);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        uint32_t air = w->links.air[a];
        bool under = g->node[g->arc[a].from].downs > 0
            && vugi_node_flooded(g, c->level, g->arc[a].from);
        if (air == VUGI_NONE || (c->level[a] <= g->arc[a].lo && !under && !is_fallen_on(c, a)))
            continue;
        vugi_water_top *t = w->surface + w->surfaces++;
        *t = (vugi_water_top){.arc = a, .from = c->volume[a], .pinned = NAN};
        t->least = c->reached[a] ? c->volume[a] - left_in(c, a) : c->volume[a];
        if (!w->links.vented[air])
            t->pinned = gate_of(c, a);
    }
}

static bool put_frame(drain_clock *c)
{
    const vugi_graph *g = graph_of(c);
    vugi_frame f = {.liquid = vugi_levels_volume(g, c->level), .time = c->time};
    bool ok = vugi_history_frame(&c->course->history, g, c->shown, c->level, f);
    memcpy(c->shown, c->level, g->arc_count * sizeof *c->shown);
    return ok;
}

/* How much of what drives a surface's liquid down to the lowest opening that it comes to its air sucks at: all, where no air
 * comes in from above. */
static double sucked_part(const drain_clock *c, const vugi_water_top *t)
{
    const vugi_waters *w = &c->waters;
    double low = INFINITY;
    if (!isnan(t->pinned))
        return 1.0;
    for (uint32_t m = 0; m < c->course->scene->mouth_count; m++)
        if (w->net.port[m] != VUGI_NONE)
            low = fmin(low, w->outlet[m].zero);
    double air = vugi_heads_at(&w->net.heads, vugi_network_air(&w->net, w->links.air[t->arc]));
    double drive = c->level[t->arc] - low;
    return air < 0.0 && drive > 0.0 ? fmin(1.0, -air / drive) : 0.0;
}

/* Where no air comes in from above, or little by a narrow opening, those under liquid may let it in and liquid out by
 * turns: all of what they do so without other air, as far as that sucks. */
static void glug(drain_clock *c, double dt)
{
    vugi_waters *w = &c->waters;
    const vugi_scene *s = c->course->scene;
    double flow = 0.0, left = 0.0, most = 0.0, part = 1.0;
    for (size_t i = 0; i < w->surfaces; i++) {
        part = fmin(part, sucked_part(c, w->surface + i));
        flow += w->surface[i].from - w->surface[i].to;
        left += w->surface[i].from - w->surface[i].least;
    }
    for (uint32_t m = 0; m < s->mouth_count; m++)
        if (w->net.port[m] != VUGI_NONE || m == w->air)
            most += part * c->glug[m];
    double share = fmin(1.0, most * dt / fmax(left, 1e-300));
    for (size_t i = 0; i < w->surfaces && flow < most * dt; i++) {
        vugi_water_top *t = w->surface + i;
        t->to = t->from - share * (t->from - t->least);
    }
}

static void add_spilt(drain_clock *c, double dt)
{
    const vugi_waters *w = &c->waters;
    for (size_t i = 0; i < w->spills; i++)
        c->spilt[w->spill[i].into] += dt * w->spill[i].flow;
}

/* One stage; its rates. Returns their sum. */
static vug_status go(drain_clock *c, double dt, double *sum)
{
    vugi_waters *w = &c->waters;
    vug_status status = vugi_waters_step(c->ctx, w, dt);
    glug(c, dt);
    *sum = 0.0;
    for (size_t i = 0; i < w->surfaces; i++) {
        c->rate[i] = (w->surface[i].from - w->surface[i].to) / dt;
        *sum += fabs(c->rate[i]);
    }
    return status;
}

/* Next to nothing is left that may leave: what comes in goes on at once, in however long a step. */
static bool follows(const drain_clock *c, const vugi_water_top *t)
{
    return c->volume[t->arc] - t->least <= last_part * graph_of(c)->capacity;
}

static vug_status check_rounds(const drain_clock *c)
{
    if (c->waters.net.heads.rounds <= MOST_ROUNDS)
        return VUG_OK;
    return vugi_fail(c->ctx, VUG_ERR_CONVERGENCE,
        "flows did not come to agree in %d rounds, at %g s", MOST_ROUNDS, c->time);
}

/* A step of two stages, or of one where a surface comes to an end of its arc. change: of the flows, as a part of them. */
static vug_status try_step(drain_clock *c, double dt, double *flow, double *change)
{
    vugi_waters *w = &c->waters;
    bool ends = false;
    double moved = 0.0, last, rest;
    for (size_t i = 0; i < w->surfaces; i++)
        w->surface[i].from = c->volume[w->surface[i].arc];
    vug_status status = go(c, stage * dt, flow);
    rest = w->net.heads.rest;
    memset(c->spilt, 0, graph_of(c)->arc_count * sizeof *c->spilt);
    for (size_t i = 0; i < w->surfaces; i++) {
        c->began[i] = c->rate[i];
        double left = c->volume[w->surface[i].arc] - (1.0 - stage) * dt * c->rate[i];
        ends = ends || left < w->surface[i].least
            || left > graph_of(c)->arc[w->surface[i].arc].volume;
    }
    for (size_t i = 0; i < w->surfaces && !ends; i++)
        w->surface[i].from -= (1.0 - stage) * dt * c->rate[i];
    if (!ends)
        add_spilt(c, (1.0 - stage) * dt);
    if (!status)
        status = go(c, ends ? dt : stage * dt, &last);
    add_spilt(c, ends ? dt : stage * dt);
    for (size_t i = 0; i < w->surfaces; i++)
        if (!follows(c, w->surface + i))
            moved += fabs(c->rate[i] - c->began[i]);
    w->net.heads.rest = fmax(w->net.heads.rest, rest);
    *change = *flow > 0.0 ? moved / *flow : 0.0;
    return status ? status : check_rounds(c);
}

/* It stands as a sheet on the floor of a door and leaves through it, or takes what does. */
static bool is_sheet(const drain_clock *c, uint32_t arc)
{
    const vugi_scene *s = c->course->scene;
    bool sheet = false;
    for (size_t i = 0; i < s->door_count; i++) {
        const vugi_door *d = s->door + i;
        bool at = d->arc[0] == arc || d->arc[1] == arc;
        sheet = sheet || (at && c->level[arc] < d->hi && c->end[arc] >= d->lo - last_mm);
    }
    return sheet;
}

/* A sheet never ends, it falls as the inverse cube root of time: what would give next to nothing in as much time again is a
 * film. */
static bool is_film(const drain_clock *c, size_t surface)
{
    const vugi_water_top *t = c->waters.surface + surface;
    double left = c->volume[t->arc] - t->least, held = graph_of(c)->arc[t->arc].volume - t->least;
    return left <= film_part * held && is_sheet(c, t->arc)
        && c->rate[surface] * c->time <= film_gain * graph_of(c)->capacity;
}

static bool is_near_end(const drain_clock *c, size_t surface)
{
    const vugi_water_top *t = c->waters.surface + surface;
    return follows(c, t) || c->level[t->arc] - c->end[t->arc] <= last_mm || is_film(c, surface);
}

/* Comes to its end with this step: not while it rises, more comes in through a door, or a surface that is far from its own
 * end would fill it again: one that it is level with, or any if it was filled again before. */
static bool is_ending(const drain_clock *c, size_t surface)
{
    const vugi_waters *w = &c->waters;
    const vugi_water_top *t = w->surface + surface;
    double least = 1e-6 * w->net.most;
    bool again = c->ended[t->arc] >= OFTEN;
    bool ends = is_near_end(c, surface) && c->rate[surface] >= -least
        && vugi_network_fed(&w->net, t->arc) <= least;
    for (size_t i = 0; i < w->surfaces && ends; i++) {
        const vugi_water_top *other = w->surface + i;
        ends = i == surface || !(again || vugi_waters_level(w, i, surface)) || is_near_end(c, i)
            || c->level[other->arc] <= c->end[t->arc];
    }
    return ends;
}

static void give(drain_clock *c, uint32_t arc, double volume)
{
    c->drained += volume;
    c->given[arc] += volume;
}

/* What ran over comes to rest, and stands higher in what it runs down if that is full. What has run out already lets it
 * out as it comes. */
static void let_down(drain_clock *c)
{
    const vugi_graph *g = graph_of(c);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        double more = c->spilt[a];
        uint32_t at = more > 0.0 ? vugi_network_rest(g, c->level, a) : a;
        if (c->reached[at] && !(left_in(c, at) > 0.0))
            continue;
        while (more > 0.0) {
            const vugi_node *to = g->node + g->arc[at].to;
            double part = fmin(more, fmax(0.0, g->arc[at].volume - c->volume[at]));
            c->volume[at] += part;
            c->level[at] = vugi_arc_level(g, at, c->volume[at]);
            give(c, at, -part);
            more -= part;
            if (to->ups == 0)
                break;
            at = g->link[to->link + to->downs];
        }
    }
}

/* Takes what the step came to. */
static void accept(drain_clock *c, double dt)
{
    const vugi_graph *g = graph_of(c);
    vugi_waters *w = &c->waters;
    double slow = 0.0;
    bool more = false;
    c->time += dt;
    for (size_t i = 0; i < w->surfaces; i++) {
        vugi_water_top *t = w->surface + i;
        t->to = fmax(0.0, t->to); /* from less, by rounding, no later step would balance */
        give(c, t->arc, c->volume[t->arc] - t->to);
        c->volume[t->arc] = t->to;
        c->level[t->arc] = vugi_arc_level(g, t->arc, t->to);
    }
    let_down(c);
    for (size_t i = 0; i < w->surfaces; i++) {
        vugi_water_top *t = w->surface + i;
        double left = c->volume[t->arc] - t->least;
        if (!c->reached[t->arc] || !(left > 0.0))
            continue;
        bool near = is_ending(c, i);
        more = more || !near;
        if (near && c->rate[i] > 0.0
            && !is_sheet(c, t->arc)) /* a rate that falls: as Torricelli's time for what is left */
            slow = fmax(slow, (c->rate[i] < 0.999 * c->began[i] ? 2.0 : 1.0) * left / c->rate[i]);
        if (!near)
            continue;
        give(c, t->arc, left);
        c->ended[t->arc]++;
        c->volume[t->arc] = t->least;
        c->level[t->arc] = c->end[t->arc];
    }
    if (!more && !reach(c, false))
        c->time += slow;
}

/* Whether the air that comes in by a mouth under liquid needs another suction than it has; it gets that. */
static bool renew_suction(drain_clock *c)
{
    vugi_waters *w = &c->waters;
    double rate = 0.0, old = c->suction;
    bool pinned = false;
    for (size_t i = 0; i < w->surfaces; i++) {
        rate += c->rate[i];
        pinned = pinned || !isnan(w->surface[i].pinned);
    }
    if (!pinned || w->air == VUGI_NONE)
        return false;
    c->suction = vugi_air_suction(w->net.fluid, c->course->scene->mouth + w->air, true, rate);
    return fabs(c->suction - old) > 1e-6;
}

/* The longest step after which a surface comes to its end as it sinks now. */
static double first_end(const drain_clock *c)
{
    const vugi_waters *w = &c->waters;
    double dt = INFINITY;
    for (size_t i = 0; i < w->surfaces; i++) {
        double left = c->volume[w->surface[i].arc] - w->surface[i].least;
        if (left > 0.0 && c->rate[i] > 0.0)
            dt = fmin(dt, left / c->rate[i]);
    }
    return dt;
}

/* A surface that goes past what resists below it changes the ways of the next step: it goes so by parts. */
static bool jumps(const drain_clock *c)
{
    const vugi_waters *w = &c->waters;
    double drive = w->high - w->low, lost = 0.0;
    for (size_t i = 0; i < w->surfaces; i++) {
        uint32_t a = w->surface[i].arc;
        double z = vugi_arc_level(graph_of(c), a, w->surface[i].to), fell = c->level[a] - z;
        vugi_path before = vugi_path_to(w->net.scene, &w->net.resistance, a, c->level[a]);
        vugi_path after = vugi_path_to(w->net.scene, &w->net.resistance, a, z);
        vugi_path past = {before.length - after.length, before.thin - after.thin,
            before.edge - after.edge};
        if (fell > 0.05 && past.length > 0.0 && past.thin > 0.0 && past.edge > 0.0)
            lost = fmax(lost, c->rate[i] * vugi_path_resistance(w->net.fluid, &past, c->rate[i]));
    }
    return lost > 0.1 * drive;
}

/* One step. moves: false when nothing more comes by itself. */
static vug_status step(drain_clock *c, bool *moves)
{
    double flow, change, all = c->waters.net.most;
    vug_status status = VUG_OK;
    for (int i = 0; i < 4 && !status; i++) {
        set_surfaces(c);
        status = vugi_waters_join(c->ctx, &c->waters, c->level);
        if (!status)
            status = try_step(c, c->dt, &flow, &change);
        if (!renew_suction(c))
            break;
    }
    for (int i = 0; i < TRIES && !status; i++) {
        status = try_step(c, c->dt, &flow, &change);
        double end = first_end(c);
        *moves = flow > (vugi_fluid_yield(c->waters.net.fluid) > 0.0 ? 1e-9 : 1e-13) * all;
        if (status)
            return status;
        double slack = fmax(1e-6 * all, rounding * graph_of(c)->capacity / c->dt);
        bool settled = c->waters.net.heads.rest <= slack;
        if (settled && !*moves)
            return VUG_OK;
        bool coarse = change > most_change || c->dt > 1.1 * end || jumps(c);
        if (i + 1 < TRIES && (!settled || (coarse && c->dt > c->shortest))) {
            double less = c->dt > 1.1 * end ? fmin(end, 0.5 * c->dt) : 0.5 * c->dt;
            c->dt = settled && c->dt > 1.1 * end ? fmax(c->shortest, less) : less;
            continue;
        }
        if (!settled)
            return vugi_fail(c->ctx, VUG_ERR_CONVERGENCE,
                "flows do not agree at %g s, in a step of %g s", c->time, c->dt);
        c->still = flow * c->dt <= rounding * graph_of(c)->capacity ? c->still + 1 : 0;
        *moves = c->still < STILL;
        accept(c, c->dt);
        c->dt *= change < least_change ? 2.0 : change > 0.5 * most_change ? 0.8 : 1.0;
        c->dt = fmax(c->dt, c->shortest);
        break;
    }
    return status;
}

/* What is held for ever: the rest of the order, without times. */
static bool stop_clock(drain_clock *c)
{
    c->time = INFINITY;
    for (size_t i = 1; i < c->run->frame_count; i++) {
        const vugi_frame *f = c->run->frame + i;
        bool any = false;
        for (size_t k = 0; k < f->changes; k++) {
            const vugi_level *l = c->run->level + f->change + k;
            any = any || -l->z < c->level[l->arc];
            c->level[l->arc] = fmin(c->level[l->arc], -l->z);
        }
        if (any && !put_frame(c))
            return false;
    }
    return true;
}

static vug_status play(drain_clock *c)
{
    const vugi_graph *g = graph_of(c);
    bool moves = true;
    c->dt = 1e-2 * g->capacity / c->waters.net.most;
    c->shortest = 1e-5 * c->dt;
    c->patience = PATIENCE;
    if (!put_frame(c))
        return vugi_fail_memory(c->ctx);
    while (reach(c, true)) {
        vug_status status = step(c, &moves);
        if (status)
            return status;
        if (!moves)
            return stop_clock(c) ? VUG_OK : vugi_fail_memory(c->ctx);
        if (!put_frame(c))
            return vugi_fail_memory(c->ctx);
        if (vugi_cancelled(c->ctx))
            return vugi_step(c->ctx, 0.9);
        for (; c->waters.net.heads.rounds > c->patience; c->patience += PATIENCE)
            c->shortest *= 2.0;
        if (++c->steps > MOST_STEPS)
            return vugi_fail(c->ctx, VUG_ERR_CONVERGENCE, "the drain did not end after %zu steps",
                c->steps);
    }
    return VUG_OK;
}

static bool clock_alloc(drain_clock *c)
{
    const vugi_scene *s = c->course->scene;
    const vugi_allocator *mem = &s->mem;
    size_t arcs = s->graph.arc_count;
    c->level = vugi_alloc(mem, arcs, sizeof *c->level);
    c->volume = vugi_alloc(mem, arcs, sizeof *c->volume);
    c->end = vugi_alloc(mem, arcs, sizeof *c->end);
    c->shown = vugi_alloc(mem, arcs, sizeof *c->shown);
    c->after = vugi_alloc(mem, arcs, sizeof *c->after);
    c->given = vugi_calloc(mem, arcs, sizeof *c->given);
    c->began = vugi_alloc(mem, arcs, sizeof *c->began);
    c->rate = vugi_alloc(mem, arcs, sizeof *c->rate);
    c->ended = vugi_calloc(mem, arcs, sizeof *c->ended);
    c->reached = vugi_calloc(mem, arcs, sizeof *c->reached);
    c->glug = vugi_calloc(mem, s->mouth_count, sizeof *c->glug);
    c->spilt = vugi_calloc(mem, arcs, sizeof *c->spilt);
    return c->level && c->volume && c->end && c->shown && c->after && c->given && c->began
        && c->rate && c->ended && c->reached && c->glug && c->spilt;
}

static void clock_free(drain_clock *c)
{
    const vugi_allocator *mem = &c->course->scene->mem;
    void *all[] = {c->level, c->volume, c->end, c->shown, c->after, c->began, c->rate, c->reached,
        c->glug, c->spilt, c->ended, c->given};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(mem, all[i]);
    vugi_waters_free(&c->waters);
}

static void clock_set(drain_clock *c, const double *start, const double *end)
{
    const vugi_scene *s = c->course->scene;
    for (uint32_t a = 0; a < s->graph.arc_count; a++) {
        c->level[a] = start ? start[a] : s->graph.arc[a].hi;
        c->volume[a] = vugi_arc_volume(&s->graph, a, c->level[a]);
        c->end[a] = fmin(c->level[a], -end[a]);
        c->shown[a] = s->graph.arc[a].lo; /* so that the first frame holds all */
    }
}

static void clock_begin(drain_clock *c)
{
    const vugi_scene *s = c->course->scene;
    for (uint32_t m = 0; m < s->mouth_count; m++)
        if (c->course->open[m])
            c->glug[m] = vugi_glug(c->waters.net.fluid, s->mouth[m].diameter);
    set_turns(c);
    c->suction = c->waters.air == VUGI_NONE
        ? 0.0
        : vugi_air_suction(c->waters.net.fluid, s->mouth + c->waters.air, true, 0.0);
}

/* end: levels of the mirror in which the drain ends. */
static vug_status set_times(vug_context *ctx, vug_course *course, const vugi_history *run,
    const vug_fluid *fluid, const double *start, const double *end)
{
    drain_clock c = {.ctx = ctx, .course = course, .run = run};
    vug_status status = clock_alloc(&c) ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        clock_set(&c, start, end);
    if (!status && fluid)
        status = vugi_waters_make(ctx, course->scene, fluid, course->open,
            highest(course->scene, course->open), &c.waters);
    if (!status && fluid) {
        clock_begin(&c);
        status = play(&c);
    } else if (!status && !(put_frame(&c) && stop_clock(&c))) {
        status = vugi_fail_memory(ctx);
    }
    course->summary.time_s = isfinite(c.time) ? c.time : -1.0;
    clock_free(&c);
    return status;
}

/* ---- events ----------------------------------------------------------------------- */

static double time_at(const vugi_history *h, double liquid)
{
    for (size_t i = 0; i < h->frame_count; i++) {
        const vugi_frame *f = h->frame + i;
        if (f->liquid > liquid * (1.0 + 1e-12))
            continue;
        double fell = i > 0 ? f[-1].liquid - f->liquid : 0.0;
        double part = fell > 0.0 ? fmin(1.0, (f[-1].liquid - liquid) / fell) : 1.0;
        return i > 0 && isfinite(f->time) ? f[-1].time + part * (f->time - f[-1].time) : f->time;
    }
    return h->frame_count > 0 ? h->frame[h->frame_count - 1].time : 0.0;
}

/* What matters of the mirror's events, the other way up. */
static bool turn_events(vug_course *c, const vugi_history *run)
{
    double capacity = c->scene->graph.capacity;
    for (size_t i = 0; i < run->event_count; i++) {
        vugi_event e = run->event[i];
        if (e.kind == VUG_EVENT_POCKET)
            e.kind = VUG_EVENT_LEFT;
        else if (e.kind == VUG_EVENT_RIM)
            e.kind = VUG_EVENT_LIP;
        else if (e.kind == VUG_EVENT_FULL)
            e.kind = VUG_EVENT_EMPTY;
        else
            continue;
        e.liquid = fmax(0.0, capacity - e.liquid);
        e.level = -e.level;
        e.time = time_at(&c->history, e.liquid);
        if (!isfinite(e.time))
            e.time = -1.0;
        if (!vugi_history_event(&c->history, e))
            return false;
    }
    return true;
}

/* ---- the drain ------------------------------------------------------------------------ */

typedef struct place {
    double top;
    uint32_t mouth;
} place;

static int by_height(const void *a, const void *b, const void *user)
{
    const place *x = a, *y = b;
    (void)user;
    if (x->top != y->top)
        return x->top > y->top ? -1 : 1;
    return x->mouth < y->mouth ? -1 : x->mouth > y->mouth;
}

/* Open mouths, highest first. list, inlet: a place for each mouth. */
static bool list_inlets(const vug_course *c, place *list, uint32_t *inlet, size_t *count)
{
    size_t n = 0;
    for (uint32_t m = 0; m < c->scene->mouth_count; m++)
        if (c->open[m])
            list[n++] = (place){c->scene->mouth[m].top, m};
    if (!vugi_sort(&c->mem, list, n, sizeof *list, by_height, NULL))
        return false;
    for (size_t i = 0; i < n; i++)
        inlet[i] = list[i].mouth;
    *count = n;
    return true;
}

vug_status vugi_emptying_run(vug_context *ctx, vug_course *c, const vug_fluid *fluid,
    const double *start)
{
    size_t mouths = c->scene->mouth_count;
    vugi_scene *mirror = NULL;
    vugi_history run = {.mem = c->mem};
    double *level = vugi_alloc(&c->mem, c->scene->graph.arc_count, sizeof *level);
    bool *never = vugi_calloc(&c->mem, mouths, sizeof *never);
    place *list = vugi_alloc(&c->mem, mouths, sizeof *list);
    uint32_t *inlet = vugi_alloc(&c->mem, mouths, sizeof *inlet);
    size_t open = 0;
    bool ready = level && never && list && inlet && list_inlets(c, list, inlet, &open);
    vug_status status = ready ? VUG_OK : vugi_fail_memory(ctx);
    c->draining = true;
    if (!status)
        status = vugi_scene_mirror(ctx, c->scene, &mirror);
    for (uint32_t a = 0; !status && a < c->scene->graph.arc_count; a++)
        level[a] = start ? -start[a] : mirror->graph.arc[a].lo;
    if (!status && open > 0) {
        vugi_fill_task task = {.scene = mirror,
            .inlet = inlet,
            .inlets = open,
            .air_open = c->open,
            .liquid_open = never,
            .volume = INFINITY,
            .weighs = true,
            .start = start ? level : NULL};
        status = vugi_quasistatic_run(ctx, &task, &run, level);
    }
    if (!status)
        status = set_times(ctx, c, &run, fluid, start, level);
    if (!status && !turn_events(c, &run))
        status = vugi_fail_memory(ctx);
    c->history.end = open == 0 || run.end == VUG_END_BLOCKED ? VUG_END_BLOCKED : VUG_END_DRAINED;
    vugi_history_free(&run);
    vugi_scene_free(mirror);
    vugi_free(&c->mem, level);
    vugi_free(&c->mem, never);
    vugi_free(&c->mem, list);
    vugi_free(&c->mem, inlet);
    if (!status)
        status = vugi_course_finish(ctx, c);
    c->summary.held = c->summary.time_s < 0.0;
    return status;
}

void vugi_emptying_film(vug_course *course, const vug_fluid *fluid, double area, double drip_s)
{
    const vugi_columns *columns = &course->scene->columns;
    vug_course_info *s = &course->summary;
    double wet = s->capacity_mm3 > 0.0 ? 1.0 - s->liquid_mm3 / s->capacity_mm3 : 0.0;
    s->film_mm = vugi_film(fluid, columns->zhi - columns->zlo, drip_s);
    s->film_mm3 = fmin(s->film_mm * area * wet, s->capacity_mm3 - s->liquid_mm3);
    s->film_mm = area * wet > 0.0 ? s->film_mm3 / (area * wet) : 0.0; /* no more than there was */
}
