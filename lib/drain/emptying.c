/* SPDX-License-Identifier: MIT
 * Draining is filling upside down: air takes the place of liquid, comes in by the highest opening,
 * rises, spills from dome to dome; liquid leaves by the others, and what is cut off from all of them
 * stays behind. The order comes from the mirrored scene, the times from the flow through the openings
 * under the head of each moment. */
#include "drain/emptying.h"

#include "base/sort.h"
#include "drain/orifice.h"

#include "course/course.h"
#include "gravity/mirror.h"
#include "hydrostatic/quasistatic.h"
#include "transient/way.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { PARTS = 32 }; /* of the way between two events, for the times */

/* ---- times ------------------------------------------------------------------- */

typedef struct drain_clock {
    vug_course *course;
    const vugi_scene *mirror;
    const vugi_history *run; /* of the mirror */
    const vug_fluid *fluid;
    vugi_links links;     /* of the mirror */
    double *level;        /* of the mirror, as the run goes */
    double *before, *now; /* of the scene */
    double *part;         /* of the mirror, between frames */
    bool *use;
    vugi_ways ways;
    vugi_path *path; /* of each mouth, to it */
    double *share;
    uint32_t air;
    double time;
} drain_clock;

/* Openings that the liquid of the pool of arc still reaches. */
static void find_outlets(drain_clock *c, uint32_t arc)
{
    assert(arc < c->mirror->graph.arc_count);
    const vugi_scene *m = c->mirror;
    for (size_t i = 0; i < m->mouth_count; i++)
        c->use[i] = false;
    for (size_t i = 0; i < m->vent_count; i++) {
        const vugi_port *p = m->vent + i;
        if (c->course->open[p->mouth] && c->links.air[p->arc] == c->links.air[arc])
            c->use[p->mouth] = true;
    }
}

/* What of the pool of an arc sinks in a part of a frame. */
typedef struct sinking {
    const vugi_frame *frame;
    uint32_t arc;
    double z, volume; /* of the mirror, mm3 */
} sinking;

static double sinks(const drain_clock *c, const sinking *s, size_t change)
{
    const vugi_graph *g = &c->mirror->graph;
    const vugi_level *l = c->run->level + s->frame->change + change;
    if (c->links.air[l->arc] != c->links.air[s->arc])
        return 0.0;
    return fmax(0.0,
        vugi_arc_volume(g, l->arc, fmin(s->z, l->z)) - vugi_arc_volume(g, l->arc, c->part[l->arc]));
}

/* The way to each outlet from the surface that has most to overcome: all sink alike, each gives its part. */
static void find_ways(drain_clock *c, const sinking *s)
{
    const vugi_level *change = c->run->level + s->frame->change;
    for (uint32_t a = 0; a < c->mirror->graph.arc_count; a++)
        c->now[a] = -c->part[a];
    for (uint32_t m = 0; m < c->mirror->mouth_count; m++) {
        c->path[m] = (vugi_path){0.0, 0.0, 0.0};
        c->share[m] = 0.0;
        if (!c->use[m] || m == c->air)
            continue;
        vugi_ways_from(&c->ways, m, c->now);
        for (size_t i = 0; i < s->frame->changes; i++) {
            double share = sinks(c, s, i) / s->volume;
            vugi_path path = vugi_ways_to(&c->ways, m, change[i].arc, c->now);
            if (share * path.thin <= c->share[m] * c->path[m].thin)
                continue;
            c->path[m] = path;
            c->share[m] = share;
        }
    }
}

/* Seconds for that to leave with its surface at a level. */
static double seconds(drain_clock *c, const sinking *s, double level)
{
    double volume = s->volume;
    if (!(volume > 0.0))
        return 0.0;
    find_outlets(c, s->arc);
    find_ways(c, s);
    vugi_outlets o = {c->course->scene, c->fluid, c->use, c->air, c->path, c->share};
    double flow = vugi_outflow(&o, level);
    return flow > 0.0 ? volume / flow : INFINITY;
}

/* Level of the scene's lowest opening: the head is counted from there to space the parts. */
static double reference(const drain_clock *c, double level)
{
    const vugi_scene *s = c->course->scene;
    double z = INFINITY;
    for (size_t m = 0; m < s->mouth_count; m++)
        if (c->course->open[m])
            z = fmin(z, s->mouth[m].lip);
    return fmin(z, level);
}

/* Time for the arcs of a frame to go from *c->level on to z (mirror): the slowest pool counts. */
static double time_to(drain_clock *c, const vugi_frame *f, double z, double surface)
{
    const vugi_level *change = c->run->level + f->change;
    double most = 0.0;
    for (size_t i = 0; i < f->changes; i++) {
        uint32_t air = c->links.air[change[i].arc];
        sinking s = {f, change[i].arc, z, 0.0};
        bool first = true;
        for (size_t k = 0; k < f->changes; k++) {
            first &= k >= i || c->links.air[change[k].arc] != air;
            s.volume += sinks(c, &s, k);
        }
        if (first)
            most = fmax(most, seconds(c, &s, surface));
    }
    for (size_t i = 0; i < f->changes; i++) {
        uint32_t a = change[i].arc;
        c->part[a] = fmax(c->part[a], fmin(z, change[i].z));
    }
    return most;
}

static bool put_frame(drain_clock *c)
{
    const vugi_graph *g = &c->course->scene->graph;
    for (uint32_t a = 0; a < g->arc_count; a++)
        c->now[a] = -c->part[a];
    vugi_frame f = {.liquid = vugi_levels_volume(g, c->now), .time = c->time, .together = true};
    bool ok = vugi_history_frame(&c->course->history, g, c->before, c->now, f);
    memcpy(c->before, c->now, g->arc_count * sizeof *c->now);
    return ok;
}

/* One frame of the mirror's run as several of the drain. */
static bool play_frame(drain_clock *c, const vugi_frame *f)
{
    const vugi_level *change = c->run->level + f->change;
    double from = INFINITY, to = -INFINITY;
    if (f->changes == 0)
        return true;
    for (size_t i = 0; i < f->changes; i++) {
        from = fmin(from, c->level[change[i].arc]);
        to = fmax(to, change[i].z);
    }
    double ref = reference(c, -to), s0 = sqrt(-from - ref), s1 = sqrt(-to - ref);
    vugi_links_find(c->mirror, c->level, c->course->open, &c->links);
    for (int k = 1; k <= PARTS; k++) {
        double s = s0 + (s1 - s0) * k / PARTS, mid = s0 + (s1 - s0) * (k - 0.5) / PARTS;
        double z = k == PARTS ? to : -(ref + s * s);
        c->time += time_to(c, f, z, ref + mid * mid);
        if (!put_frame(c))
            return false;
    }
    for (size_t i = 0; i < f->changes; i++)
        c->level[change[i].arc] = change[i].z;
    return true;
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

static bool clock_alloc(const vugi_allocator *mem, drain_clock *c)
{
    size_t arcs = c->mirror->graph.arc_count;
    c->level = vugi_alloc(mem, arcs, sizeof *c->level);
    c->part = vugi_alloc(mem, arcs, sizeof *c->part);
    c->before = vugi_alloc(mem, arcs, sizeof *c->before);
    c->now = vugi_alloc(mem, arcs, sizeof *c->now);
    c->use = vugi_alloc(mem, c->mirror->mouth_count, sizeof *c->use);
    c->path = vugi_alloc(mem, c->mirror->mouth_count, sizeof *c->path);
    c->share = vugi_alloc(mem, c->mirror->mouth_count, sizeof *c->share);
    return vugi_links_alloc(mem, &c->mirror->graph, &c->links) && c->level && c->part && c->before
        && c->now && c->use && c->path && c->share;
}

static void clock_free(const vugi_allocator *mem, drain_clock *c)
{
    vugi_links_free(mem, &c->links);
    vugi_free(mem, c->level);
    vugi_free(mem, c->part);
    vugi_free(mem, c->before);
    vugi_free(mem, c->now);
    vugi_free(mem, c->use);
    vugi_free(mem, c->path);
    vugi_free(mem, c->share);
    vugi_ways_free(&c->ways);
}

static vug_status set_times(vug_context *ctx, vug_course *course, const vugi_scene *mirror,
    const vugi_history *run, const vug_fluid *fluid, const double *start)
{
    drain_clock c = {.course = course,
        .mirror = mirror,
        .run = run,
        .fluid = fluid,
        .air = highest(course->scene, course->open)};
    const vugi_graph *g = &mirror->graph;
    bool ok = clock_alloc(&course->mem, &c);
    vug_status status = ok ? vugi_ways_make(ctx, course->scene, &c.ways) : VUG_OK;
    if (status) {
        clock_free(&course->mem, &c);
        return status;
    }
    for (uint32_t a = 0; ok && a < g->arc_count; a++) {
        c.level[a] = c.part[a] = start ? -start[a] : g->arc[a].lo;
        c.before[a] = course->scene->graph.arc[a].lo; /* so that the first frame holds all */
    }
    ok = ok && put_frame(&c);
    for (size_t i = start ? 1 : 0; ok && i < run->frame_count; i++) {
        ok = play_frame(&c, run->frame + i);
        if (ok && vugi_cancelled(ctx)) {
            clock_free(&course->mem, &c);
            return vugi_step(ctx, 0.9);
        }
    }
    course->summary.time_s = isfinite(c.time) ? c.time : -1.0;
    clock_free(&course->mem, &c);
    return ok ? VUG_OK : vugi_fail_memory(ctx);
}

/* ---- events ----------------------------------------------------------------------- */

static double time_at(const vugi_history *h, double liquid)
{
    for (size_t i = 0; i < h->frame_count; i++)
        if (h->frame[i].liquid <= liquid * (1.0 + 1e-12))
            return h->frame[i].time;
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
            .start = start ? level : NULL};
        status = vugi_quasistatic_run(ctx, &task, &run, level);
    }
    if (!status)
        status = set_times(ctx, c, mirror, &run, fluid, start);
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
