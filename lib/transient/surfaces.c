/* SPDX-License-Identifier: MIT
 * Surfaces of a fill: which arcs have one at the levels of now, and what it holds. */
#include "transient/surfaces.h"

#include "transient/gas.h"

#include "gravity/cut.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* A full arc falls when it lacks so much of the head that holds it up: not at each ripple. */
static const double fall_mm = 0.01;

/* So near each other the lip and the top of a bore are one. */
static const double rim_mm = 0.02, rim_share = 0.01;

/* ---- what each arc is, at the levels of now ----------------------------------- */

bool vugi_surfaces_full(const vugi_filling *n, uint32_t a)
{
    assert(a < n->r.g->arc_count);
    return n->r.level[a] >= n->r.g->arc[a].hi;
}

/* Liquid can rise into air that has a way out, or that gives. */
static bool can_take(const vugi_filling *n, uint32_t a)
{
    uint32_t air = n->r.links.air[a];
    return air != VUGI_NONE && (n->compressibility >= 0.0 || n->r.links.vented[air]);
}

/* Liquid that stands in an arc over a dry throat leaves the air below its own way out, as the air above has. What stands
 * there already goes on. */
static bool can_hang(vugi_filling *n, uint32_t a)
{
    const vugi_graph *g = n->r.g;
    vugi_run *r = &n->r;
    double level = r->level[a];
    if (!vugi_arc_is_cut(g, a) || vugi_node_flooded(g, r->level, g->arc[a].from))
        return false;
    if (level > g->arc[a].lo)
        return true;
    n->hung[a] = true;
    r->level[a] = 0.5 * (g->arc[a].lo + g->arc[a].hi);
    vugi_links_find(r->scene, r->level, r->task->air_open, &n->probe);
    r->level[a] = level;
    uint32_t above = n->probe.air[a], below = n->probe.air[vugi_arc_below(g, a)];
    return above != VUGI_NONE && below != VUGI_NONE && n->probe.vented[above]
        && n->probe.vented[below];
}

/* Liquid stands in it or can come up into it. */
static bool is_wet(const vugi_filling *n, uint32_t a)
{
    const vugi_graph *g = n->r.g;
    uint32_t from = g->arc[a].from;
    return n->r.level[a] > g->arc[a].lo || n->hung[a] || g->node[from].downs == 0
        || vugi_node_flooded(g, n->r.level, from);
}

/* The next event of a surface that rises. In a bore the law grows by its eighths, and no step is as short as to fill a sliver
 * at its rim and no more. */
static double next_level(const vugi_filling *n, uint32_t a)
{
    const vugi_bore_stretch *bore = n->net.in_bore + a;
    double next = vugi_run_next(&n->r, a), hi = n->r.g->arc[a].hi;
    if (bore->mouth == VUGI_NONE)
        return next;
    next = fmin(next, vugi_bore_next(bore, n->r.level[a]));
    return next > hi - fmin(rim_mm, rim_share * (bore->to - bore->from)) ? hi : next;
}

void vugi_surfaces_classify(vugi_filling *n)
{
    const vugi_graph *g = n->r.g;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        bool full = vugi_surfaces_full(n, a),
             under = full && vugi_node_flooded(g, n->r.level, g->arc[a].to);
        n->link[a] = full && !under ? vugi_run_overflow(&n->r, a, n->compressibility < 0.0)
                                    : VUGI_NONE;
        n->end[a] = VUGI_END_NONE;
        if (!full && can_take(n, a))
            n->end[a] = VUGI_END_TANK;
        else if (n->link[a] != VUGI_NONE)
            n->end[a] = VUGI_END_OVER;
        n->rim[a] = full ? g->arc[a].hi : next_level(n, a);
        n->hung[a] = can_hang(n, a);
        n->net.surface[a] = n->end[a] != VUGI_END_NONE && is_wet(n, a);
    }
    uint32_t inlet = n->r.task->inlet[0];
    n->inlet_arc = vugi_run_inlet(&n->r, inlet, &n->inlet_under);
    n->net.port[inlet] = VUGI_NONE;
    if (n->inlet_arc != VUGI_NONE && n->inlet_under
        && (n->net.surface[n->inlet_arc] || vugi_surfaces_full(n, n->inlet_arc)))
        n->net.port[inlet] = n->inlet_arc;
    vugi_gas_begin(n);
}

/* The place of what falls onto an arc: its surface, or without one a junction. */
uint32_t vugi_surfaces_place(const vugi_filling *n, uint32_t a)
{
    const vugi_resistance *r = &n->net.resistance;
    if (n->net.surface[a])
        return vugi_network_surface(&n->net, a);
    return vugi_surfaces_full(n, a) ? r->crown[a] : r->foot[a];
}

uint32_t vugi_surfaces_air(const vugi_filling *n, uint32_t a)
{
    return vugi_network_air(&n->net, n->over[a]);
}

/* ---- what they hold ----------------------------------------------------------------- */

/* What a full arc under air holds at a level: all, until it lacks too much. */
static double held_full(const vugi_filling *n, uint32_t a, double z, double near, double *area)
{
    double hi = n->r.g->arc[a].hi, to = fmin(hi, z + fall_mm);
    *area = to - near < hi ? vugi_network_area(n->r.g, a, to - near, to + near) : 0.0;
    return vugi_arc_volume(n->r.g, a, to);
}

/* What a surface holds at a level: on beyond its next event, for the step to be cut there. */
static double held_at(const vugi_filling *n, uint32_t a, double z, double near, double *area)
{
    const vugi_graph *g = n->r.g;
    const vugi_arc *arc = g->arc + a;
    double h = g->columns->h, rim = n->rim[a], over = fmax(0.0, z - rim);
    double end = fmax(0.25 * h * h, vugi_arc_area(g, a, rim - 1e-6 * (arc->hi - arc->lo)));
    *area = z + near > rim ? end : 0.0;
    if (z + near > arc->lo && z - near <= rim)
        *area = fmax(*area, vugi_network_area(g, a, z - near, fmin(rim, z + near)));
    return vugi_arc_volume(g, a, fmin(z, rim)) + end * over;
}

/* What goes up into a surface. */
static double flow_surface(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_filling *n = f->of;
    uint32_t a = (uint32_t)f->index;
    double z = head[0] - head[1];
    double volume = vugi_surfaces_full(n, a) ? held_full(n, a, z, ask->near, slope)
                                             : held_at(n, a, z, ask->near, slope);
    slope[0] /= n->dt;
    slope[1] = -slope[0];
    return (volume - n->volume[a]) / n->dt;
}

bool vugi_surfaces_add(vugi_filling *n)
{
    bool ok = true;
    for (uint32_t a = 0; a < n->r.g->arc_count && ok; a++)
        if (n->net.surface[a])
            ok = vugi_heads_put(&n->net.heads, flow_surface, n, a, vugi_network_surface(&n->net, a),
                vugi_surfaces_air(n, a), VUGI_NONE);
    return ok;
}

/* A full arc under air runs over, or is held, or falls. */
void vugi_surfaces_take(vugi_filling *n)
{
    const vugi_heads *b = &n->net.heads;
    const vugi_graph *g = n->r.g;
    memset(n->flow, 0, g->arc_count * sizeof *n->flow);
    memcpy(n->next, n->volume, g->arc_count * sizeof *n->next);
    for (size_t i = 0; i < b->flows; i++) {
        const vugi_flow *f = b->flow + i;
        if (f->law != flow_surface)
            continue;
        uint32_t a = (uint32_t)f->index;
        double z = vugi_heads_at(b, f->place[0])
            - (n->over[a] == VUGI_NONE ? 0.0 : n->gas[n->over[a]].excess);
        n->flow[a] = f->flow;
        n->next[a] = fmax(0.0, n->volume[a] + n->dt * f->flow);
        n->held[a] = n->next[a] <= 0.0 && z < g->arc[a].lo;
        n->sill_head[a] = fmax(0.0, z - g->arc[a].hi);
        if (vugi_surfaces_full(n, a))
            n->end[a] = f->flow < 0.0 ? VUGI_END_TANK : VUGI_END_OVER;
    }
}
