/* SPDX-License-Identifier: MIT
 * What draining adds to the network: surfaces that sink, mouths, sills that liquid runs over, air that comes in. */
#include "drain/waters.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* What has run out down to a lip stands over it by rounding. */
static const double hair_mm = 1e-6;

static bool add(vugi_waters *w, vugi_flow_law law, const void *of, size_t index, uint32_t from,
    uint32_t to)
{
    return vugi_heads_put(&w->net.heads, law, of, index, from, to, VUGI_NONE);
}

bool vugi_waters_level(const vugi_waters *w, size_t surface, size_t other)
{
    return vugi_heads_same(&w->net.heads, vugi_network_surface(&w->net, w->surface[surface].arc),
        vugi_network_surface(&w->net, w->surface[other].arc));
}

/* ---- mouths ------------------------------------------------------------------------------ */

/* The arc by which liquid comes to each mouth: the largest that has any at its lip. */
static void find_ports(vugi_waters *w, const double *level)
{
    const vugi_scene *s = w->net.scene;
    const vugi_graph *g = &s->graph;
    for (uint32_t m = 0; m < s->mouth_count; m++)
        w->net.port[m] = VUGI_NONE;
    for (size_t i = 0; i < s->lip_count; i++) {
        const vugi_port *p = s->lip + i;
        const vugi_arc *a = g->arc + p->arc;
        uint32_t *best = w->net.port + p->mouth;
        bool dry = level[p->arc] <= a->lo, surface = w->net.surface[p->arc];
        bool wet = level[p->arc] > p->z + hair_mm || (!dry && p->z <= a->lo) || (dry && surface);
        if (w->open[p->mouth] && p->mouth != w->air && wet
            && (*best == VUGI_NONE || g->arc[*best].volume < a->volume))
            *best = p->arc;
    }
}

static bool add_mouths(vugi_waters *w)
{
    bool ok = true;
    for (uint32_t m = 0; m < w->net.scene->mouth_count && ok; m++)
        if (w->net.port[m] != VUGI_NONE)
            ok = add(w, vugi_outlet_law, w->outlet + m, m, vugi_network_stop(&w->net, m),
                VUGI_NONE);
    return ok;
}

/* Air in by the mouths that it is at. */
static bool add_inlets(vugi_waters *w, const double *level)
{
    const vugi_scene *s = w->net.scene;
    bool ok = true;
    for (uint32_t air = 0; air < w->links.air_count; air++) {
        uint32_t place = vugi_network_air(&w->net, air);
        for (uint32_t m = 0; m < s->mouth_count && ok && place != VUGI_NONE; m++)
            if (w->open[m] && vugi_links_open_to(s, level, &w->links, m, air))
                ok = add(w, vugi_outlet_law_air, w->inlet + m, m, place, VUGI_NONE);
    }
    return ok;
}

/* ---- sills --------------------------------------------------------------------------------- */

/* As nothing resists there. */
static double flow_spill(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_waters *w = f->of;
    double z = w->spill[f->index].z;
    slope[0] = head[0] + ask->near > z ? w->net.stiff : 0.0;
    return w->net.stiff * fmax(0.0, head[0] - z);
}

/* One for each place at which full arcs end below what is dry. */
static bool add_spills(vugi_waters *w, const double *level)
{
    const vugi_graph *g = &w->net.scene->graph;
    bool ok = true;
    w->spills = 0;
    for (uint32_t a = 0; a < g->arc_count && ok; a++) {
        const vugi_node *n = g->node + g->arc[a].to;
        uint32_t place = w->net.resistance.crown[a], into = VUGI_NONE;
        bool known = level[a] < g->arc[a].hi;
        for (uint32_t k = n->link; k < n->link + n->downs && into == VUGI_NONE; k++)
            if (level[g->link[k]] < g->arc[g->link[k]].hi)
                into = g->link[k];
        for (size_t i = 0; i < w->spills; i++)
            known = known || w->spill[i].place == place;
        if (known || into == VUGI_NONE)
            continue;
        if (!vugi_reserve(&w->net.scene->mem, &w->spill, &w->spill_room, w->spills + 1,
                sizeof *w->spill))
            return false;
        w->spill[w->spills] = (vugi_water_spill){place, into, g->arc[a].hi, 0.0};
        ok = add(w, flow_spill, w, w->spills++, place, VUGI_NONE);
    }
    return ok;
}

/* ---- surfaces ------------------------------------------------------------------------------ */

static double flow_pinned(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_waters *w = f->of;
    const vugi_water_top *t = w->surface + f->index;
    double stiff = w->net.stiff, all = fmax(0.0, t->from - t->least) / w->dt;
    double flow = stiff * (t->pinned - head[0]);
    if (flow > -stiff * ask->near && flow < all + stiff * ask->near)
        slope[0] = stiff;
    return -fmax(0.0, fmin(all, flow));
}

/* What goes up into a surface. */
static double flow_surface(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_waters *w = f->of;
    const vugi_water_top *t = w->surface + f->index;
    const vugi_graph *g = &w->net.scene->graph;
    if (!isnan(t->pinned))
        return flow_pinned(ask, f, head, slope);
    double z = head[0] - head[1], up = z + ask->near, down = z - ask->near;
    if (down < g->arc[t->arc].hi && vugi_arc_volume(g, t->arc, up) > t->least)
        slope[0] = vugi_network_area(g, t->arc, down, up) / w->dt;
    slope[1] = -slope[0];
    return (fmax(vugi_arc_volume(g, t->arc, z), t->least) - t->from) / w->dt;
}

static bool add_surfaces(vugi_waters *w)
{
    bool ok = true;
    for (size_t s = 0; s < w->surfaces && ok; s++) {
        const vugi_water_top *t = w->surface + s;
        uint32_t air = isnan(t->pinned) ? vugi_network_air(&w->net, w->links.air[t->arc])
                                        : VUGI_NONE;
        ok = add(w, flow_surface, w, s, vugi_network_surface(&w->net, t->arc), air);
    }
    return ok;
}

/* ---- a step -------------------------------------------------------------------------------- */

/* Heads to begin with: those of the step before, or of the highest surface. And between which they lie: no air is sucked at
 * by more than what drives them all, and no liquid by more than its air. */
static void set_heads(vugi_waters *w, const double *level)
{
    vugi_heads *b = &w->net.heads;
    const vugi_scene *s = w->net.scene;
    w->low = INFINITY;
    w->high = -INFINITY;
    for (uint32_t m = 0; m < s->mouth_count; m++)
        if (w->net.port[m] != VUGI_NONE)
            w->low = fmin(w->low, w->outlet[m].zero);
    for (size_t i = 0; i < w->surfaces; i++) {
        const vugi_water_top *t = w->surface + i;
        double z = isnan(t->pinned) ? level[t->arc] : t->pinned;
        w->low = fmin(w->low, fmin(z, s->graph.arc[t->arc].lo));
        w->high = fmax(w->high, z);
    }
    for (size_t i = 0; i < w->spills; i++)
        w->low = fmin(w->low, w->spill[i].z);
    w->low = fmin(w->low, w->high) - 1.0;
    w->high = w->high + 1.0;
    double all = w->high - w->low;
    for (uint32_t p = 0; p < b->late; p++)
        vugi_heads_from(b, p, w->high, w->low - all, w->high);
    for (uint32_t p = 0; p < b->late; p++)
        if (!isnan(b->known[p]))
            vugi_heads_from(b, p, b->known[p], w->low - all, w->high);
    for (uint32_t p = (uint32_t)b->late; p < b->places; p++)
        vugi_heads_from(b, p, 0.0, -all, all);
}

vug_status vugi_waters_join(vug_context *ctx, vugi_waters *w, const double *level)
{
    size_t arcs = w->net.scene->graph.arc_count;
    memset(w->net.surface, 0, arcs * sizeof *w->net.surface);
    memset(w->net.airs, 0, arcs * sizeof *w->net.airs);
    for (size_t i = 0; i < w->surfaces; i++) {
        w->net.surface[w->surface[i].arc] = true;
        if (isnan(w->surface[i].pinned))
            w->net.airs[w->links.air[w->surface[i].arc]] = true;
    }
    find_ports(w, level);
    bool ok = vugi_network_join(&w->net, level, &w->links) && add_mouths(w) && add_spills(w, level)
        && add_inlets(w, level) && add_surfaces(w) && vugi_heads_rows(&w->net.heads);
    if (ok)
        set_heads(w, level);
    return ok ? VUG_OK : vugi_fail_memory(ctx);
}

vug_status vugi_waters_step(vug_context *ctx, vugi_waters *w, double dt)
{
    assert(dt > 0.0);
    const vugi_heads *b = &w->net.heads;
    w->dt = dt;
    vug_status status = vugi_heads_solve(ctx, &w->net.heads, w->net.most,
        w->net.scene->graph.capacity / dt);
    for (size_t i = 0; i < b->flows; i++) {
        const vugi_flow *f = b->flow + i;
        if (f->law == flow_surface)
            w->surface[f->index].to = w->surface[f->index].from + dt * f->flow;
        else if (f->law == flow_spill)
            w->spill[f->index].flow = f->flow;
    }
    return status;
}

/* ---- memory -------------------------------------------------------------------------------- */

/* The tables; *most: what all openings can pass. */
static bool make_outlets(vugi_waters *w, const vugi_scene *s, const vug_fluid *fluid, double *most)
{
    w->outlet = vugi_calloc(&s->mem, s->mouth_count, sizeof *w->outlet);
    w->inlet = vugi_calloc(&s->mem, s->mouth_count, sizeof *w->inlet);
    for (uint32_t m = 0; m < s->mouth_count && w->outlet && w->inlet; m++) {
        double slope, high = s->columns.zhi - s->columns.zlo;
        if (!w->open[m])
            continue;
        high += fmax(0.0, s->columns.zlo - s->mouth[m].lip); /* along its bore */
        w->outlet[m] = vugi_outlet_liquid(fluid, s->mouth + m, high);
        w->inlet[m] = vugi_outlet_air(fluid, s->mouth + m, high);
        *most += vugi_outlet_flow(w->outlet + m, s->columns.zhi, &slope);
    }
    *most = fmax(*most, 1e-6);
    return w->outlet && w->inlet;
}

vug_status vugi_waters_make(vug_context *ctx, const vugi_scene *scene, const vug_fluid *fluid,
    const bool *open, uint32_t air, vugi_waters *w)
{
    double most = 0.0;
    *w = (vugi_waters){.net.scene = scene, .open = open, .air = air};
    w->surface = vugi_alloc(&scene->mem, scene->graph.arc_count, sizeof *w->surface);
    if (!w->surface || !vugi_links_alloc(&scene->mem, &scene->graph, &w->links)
        || !make_outlets(w, scene, fluid, &most))
        return vugi_fail_memory(ctx);
    return vugi_network_make(ctx, scene, fluid, most, &w->net);
}

void vugi_waters_free(vugi_waters *w)
{
    if (!w->net.scene)
        return;
    const vugi_allocator *mem = &w->net.scene->mem;
    void *all[] = {w->surface, w->spill, w->outlet, w->inlet};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(mem, all[i]);
    vugi_links_free(mem, &w->links);
    vugi_network_free(&w->net);
}
