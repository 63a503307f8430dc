/* SPDX-License-Identifier: MIT
 * One step of a fill. Steps in time are implicit (backward Euler), so wide arcs, which level at once, and stiff air cost no
 * small steps. */
#include "transient/filling.h"

#include "transient/gas.h"

#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/hole.h"
#include "gravity/cut.h"
#include "hydrostatic/liquid.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* A full arc falls when it lacks so much of the head that holds it up: not at each ripple. */
static const double fall_mm = 0.01;

/* ---- what each arc is, at the levels of now ----------------------------------- */

static bool is_full(const vugi_filling *n, uint32_t a)
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

void vugi_filling_classify(vugi_filling *n)
{
    const vugi_graph *g = n->r.g;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        bool full = is_full(n, a), under = full && vugi_node_flooded(g, n->r.level, g->arc[a].to);
        n->link[a] = full && !under ? vugi_run_overflow(&n->r, a, n->compressibility < 0.0)
                                    : VUGI_NONE;
        n->end[a] = VUGI_END_NONE;
        if (!full && can_take(n, a))
            n->end[a] = VUGI_END_TANK;
        else if (n->link[a] != VUGI_NONE)
            n->end[a] = VUGI_END_OVER;
        n->rim[a] = full ? g->arc[a].hi : vugi_run_next(&n->r, a);
        n->hung[a] = can_hang(n, a);
        n->net.surface[a] = n->end[a] != VUGI_END_NONE && is_wet(n, a);
    }
    uint32_t inlet = n->r.task->inlet[0];
    n->inlet_arc = vugi_run_inlet(&n->r, inlet, &n->inlet_under);
    n->net.port[inlet] = VUGI_NONE;
    if (n->inlet_arc != VUGI_NONE && n->inlet_under
        && (n->net.surface[n->inlet_arc] || is_full(n, n->inlet_arc)))
        n->net.port[inlet] = n->inlet_arc;
    vugi_gas_begin(n);
}

/* The highest arc over a dry throat that liquid passes on its way from one arc down to a basin; VUGI_NONE: none. */
static uint32_t hung_between(const vugi_filling *n, uint32_t above, uint32_t basin)
{
    const vugi_graph *g = n->r.g;
    uint32_t *stack = n->r.rising, *came = n->r.visited,
             best = VUGI_NONE; /* came: from which, plus 1 */
    size_t count = 0;
    if (!memchr(n->hung, true, g->arc_count * sizeof *n->hung))
        return VUGI_NONE;
    memset(came, 0, g->arc_count * sizeof *came);
    stack[count++] = above;
    came[above] = above + 1;
    while (count > 0 && !came[basin]) {
        uint32_t a = stack[--count];
        const vugi_node *from = g->node + g->arc[a].from;
        for (uint32_t k = from->link + from->downs; k-- > from->link;)
            if (!came[g->link[k]]) {
                came[g->link[k]] = a + 1;
                stack[count++] = g->link[k];
            }
    }
    for (uint32_t a = basin; came[a];) {
        best = n->hung[a] ? a : best;
        if (came[a] == a + 1)
            break;
        a = came[a] - 1;
    }
    return best;
}

/* The arc onto whose surface liquid falls that comes by arc `above` and would come to rest in basin: one over a dry
 * throat; the first that stands in the basin's pool, going down from above through air; else the first surface of that pool. */
static uint32_t surface_under(const vugi_filling *n, uint32_t basin, uint32_t above)
{
    const vugi_graph *g = n->r.g;
    uint32_t pool = n->r.links.pool[basin], *stack = n->r.rising, *seen = n->r.visited;
    size_t count = 0;
    uint32_t hung = above == VUGI_NONE ? VUGI_NONE : hung_between(n, above, basin);
    if (hung != VUGI_NONE)
        return hung;
    if (pool == VUGI_NONE || n->end[basin] != VUGI_END_NONE || above == VUGI_NONE
        || is_full(n, above))
        return basin;
    memset(seen, 0, g->arc_count * sizeof *seen);
    stack[count++] = above;
    while (count > 0) {
        uint32_t a = stack[--count];
        if (n->r.links.pool[a] == pool && n->end[a] != VUGI_END_NONE)
            return a;
        const vugi_node *from = g->node + g->arc[a].from;
        for (uint32_t k = from->link + from->downs; k-- > from->link;)
            if (!seen[g->link[k]]) {
                seen[g->link[k]] = 1;
                stack[count++] = g->link[k];
            }
    }
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (n->r.links.pool[a] == pool && n->end[a] != VUGI_END_NONE)
            return a;
    return basin;
}

/* Liquid in the arc can take more: to its surface, or to where arcs join above. */
static bool takes_feed(const vugi_filling *n, uint32_t a)
{
    return n->end[a] != VUGI_END_NONE
        || (is_full(n, a) && vugi_node_flooded(n->r.g, n->r.level, n->r.g->arc[a].to));
}

uint32_t vugi_filling_fed(const vugi_filling *n)
{
    uint32_t inlet = n->r.task->inlet[0], basin, above = VUGI_NONE;
    if (n->inlet_under && takes_feed(n, n->inlet_arc))
        return n->inlet_arc;
    basin = vugi_run_start(&n->r, inlet);
    for (size_t i = 0; i < n->r.scene->lip_count && above == VUGI_NONE; i++)
        if (n->r.scene->lip[i].mouth == inlet)
            above = n->r.scene->lip[i].arc;
    return basin == VUGI_NONE ? VUGI_NONE : surface_under(n, basin, above);
}

/* ---- what falls ------------------------------------------------------------------- */

/* Where liquid comes to rest that goes down the link by which an arc runs over. */
static vug_status find_landing(vugi_filling *n, uint32_t a, uint32_t *basin)
{
    uint32_t k = n->link[a];
    vug_status status = VUG_OK;
    *basin = n->basin[k];
    if (*basin == VUGI_NONE)
        status = vugi_run_way_down(&n->r, n->r.links.pool[a], k, basin);
    if (!status && n->r.links.pool[*basin] == n->r.links.pool[a])
        *basin = vugi_basin_below(n->r.g, n->r.g->link[k]); /* hollows that the graph leaves out */
    return status;
}

/* The arc onto which liquid falls that runs over at another. */
static vug_status find_fall(vugi_filling *n, uint32_t a, uint32_t *fall)
{
    uint32_t below = n->r.g->link[n->link[a]], basin;
    vug_status status = find_landing(n, a, &basin);
    if (status)
        return status;
    *fall = surface_under(n, basin, below);
    if (n->r.level[*fall] > n->r.g->arc[a].hi) /* no way down: straight into the neighbour */
        *fall = surface_under(n, vugi_basin_below(n->r.g, below), below);
    return VUG_OK;
}

static vug_status find_falls(vugi_filling *n)
{
    const vugi_graph *g = n->r.g;
    vug_status status = VUG_OK;
    for (uint32_t a = 0; a < g->arc_count && !status; a++) {
        n->to[a] = VUGI_NONE;
        if (n->end[a] == VUGI_END_OVER)
            status = find_fall(n, a, n->to + a);
        else if (n->hung[a] && n->end[a] == VUGI_END_TANK)
            n->to[a] = surface_under(n, vugi_basin_below(g, a), vugi_arc_below(g, a));
        if (n->to[a] != VUGI_NONE && n->end[n->to[a]] != VUGI_END_NONE)
            n->net.surface[n->to[a]] = true;
    }
    return status;
}

/* The place of what falls onto an arc: its surface, or without one a junction. */
static uint32_t place_on(const vugi_filling *n, uint32_t a)
{
    const vugi_resistance *r = &n->net.resistance;
    if (n->net.surface[a])
        return vugi_network_surface(&n->net, a);
    return is_full(n, a) ? r->crown[a] : r->foot[a];
}

static uint32_t air_over(const vugi_filling *n, uint32_t a)
{
    return vugi_network_air(&n->net, n->over[a]);
}

static bool add(vugi_filling *n, vugi_flow_law law, size_t index, uint32_t from, uint32_t to,
    uint32_t third)
{
    return vugi_heads_add(&n->net.heads,
        (vugi_flow){law, n, index, {from, to, third}, {0}, 0.0, 0.0});
}

/* Over the sill of a full arc; as nothing resists where none is known. */
static double flow_over(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_filling *n = f->of;
    uint32_t k = n->link[f->index];
    double over = head[0] - head[2] - n->r.g->arc[f->index].hi, flow;
    if (n->r.g->sill[k] == VUGI_NONE) {
        flow = n->net.stiff * fmax(0.0, over);
        slope[0] = over + ask->near > 0.0 ? n->net.stiff : 0.0;
    } else {
        flow = vugi_outlet_ask(ask, n->sill + k, over, slope);
    }
    slope[2] = -slope[0];
    return flow;
}

/* Up to where the way in an arc counts: a dry throat resists by all its length from the first drop. */
static double way_level(const vugi_filling *n, uint32_t a)
{
    const vugi_arc *arc = n->r.g->arc + a;
    return fmax(n->r.level[a], 0.5 * (arc->lo + arc->hi));
}

/* Down through a dry throat, by the head over its end and over the air there. */
static double through(const vugi_ask *ask, const vugi_filling *n, uint32_t a, double head,
    double *slope)
{
    vugi_path way = vugi_path_to(n->r.scene, &n->net.resistance, a, way_level(n, a));
    double over = head - n->r.g->arc[a].lo, far;
    double flow = vugi_path_flow(n->task->fluid, &way, fmax(0.0, over), slope);
    vugi_path_flow(n->task->fluid, &way, fmax(0.0, over + ask->near), &far);
    *slope = over + ask->near > 0.0 ? fmax(*slope, far) : 0.0;
    return flow;
}

static double flow_hung(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    double flow = through(ask, f->of, (uint32_t)f->index, head[0] - head[2], slope);
    slope[2] = -slope[0];
    return flow;
}

/* The air below it that has no other way out comes up as the liquid goes down. */
static double flow_exchange(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    return through(ask, f->of, (uint32_t)f->index, head[2], slope + 2);
}

static bool add_hung(vugi_filling *n, uint32_t a)
{
    uint32_t air = n->r.links.air[vugi_arc_below(n->r.g, a)], place = place_on(n, a);
    uint32_t below = vugi_network_air(&n->net, air);
    bool vented = below != VUGI_NONE && n->r.links.vented[air];
    bool shut = below != VUGI_NONE && !vented && air_over(n, a) != VUGI_NONE;
    return add(n, flow_hung, a, place, place_on(n, n->to[a]), vented ? below : VUGI_NONE)
        && (!shut || vugi_gas_pass(n, flow_exchange, a, air, n->over[a], place));
}

static bool add_falls(vugi_filling *n)
{
    const vugi_graph *g = n->r.g;
    bool ok = true;
    for (uint32_t a = 0; a < g->arc_count && ok; a++) {
        uint32_t k = n->link[a];
        if (n->to[a] == VUGI_NONE)
            continue;
        if (n->end[a] == VUGI_END_TANK) {
            ok = add_hung(n, a);
            continue;
        }
        if (g->sill[k] != VUGI_NONE && !n->sill_known[k]) {
            vugi_sill_shape shape;
            vugi_sill_measure(g, k, g->arc[a].hi, &shape);
            n->sill[k] = vugi_outlet_sill(n->task->fluid, &shape);
            n->sill_known[k] = true;
        }
        ok = add(n, flow_over, a, place_on(n, a), place_on(n, n->to[a]), air_over(n, a));
    }
    return ok;
}

vug_status vugi_filling_note(vugi_filling *n)
{
    const vugi_heads *b = &n->net.heads;
    vug_status status = VUG_OK;
    for (size_t i = 0; i < b->flows && !status; i++) {
        uint32_t a = (uint32_t)b->flow[i].index, basin, k;
        if (b->flow[i].law != flow_over || b->flow[i].flow <= 1e-9 * n->net.most)
            continue;
        k = n->link[a];
        if (!(status = vugi_run_sill(&n->r, n->r.g->arc[a].to, k))
            && !(status = find_landing(n, a, &basin)))
            status = vugi_run_reach(&n->r, basin);
        if (!status && n->basin[k] == VUGI_NONE)
            n->basin[k] = basin;
    }
    return status;
}

/* ---- surfaces --------------------------------------------------------------------- */

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
    double volume = is_full(n, a) ? held_full(n, a, z, ask->near, slope)
                                  : held_at(n, a, z, ask->near, slope);
    slope[0] /= n->dt;
    slope[1] = -slope[0];
    return (volume - n->volume[a]) / n->dt;
}

static bool add_surfaces(vugi_filling *n)
{
    bool ok = true;
    for (uint32_t a = 0; a < n->r.g->arc_count && ok; a++)
        if (n->net.surface[a])
            ok = add(n, flow_surface, a, vugi_network_surface(&n->net, a), air_over(n, a),
                VUGI_NONE);
    return ok;
}

/* ---- the inlet -------------------------------------------------------------------- */

static double inlet_height(const vugi_filling *n)
{
    const vugi_scene_mouth *m = n->r.scene->mouth + n->r.task->inlet[0];
    return 0.5 * (m->top + m->lip);
}

double vugi_filling_inside(const vugi_filling *n)
{
    uint32_t inlet = n->r.task->inlet[0], arc = n->inlet_arc;
    bool under;
    if (!n->net.heads.places || (arc = vugi_run_inlet(&n->r, inlet, &under)) == VUGI_NONE)
        return 0.0;
    double head = n->net.heads.known[vugi_network_stop(&n->net, inlet)];
    if (!under)
        return n->press[arc];
    return (isnan(head) ? n->r.level[arc] + n->press[arc] : head) - inlet_height(n);
}

double vugi_filling_driven(const vugi_filling *n, double inside_mm)
{
    const vugi_scene_mouth *m = n->r.scene->mouth + n->r.task->inlet[0];
    vugi_orifice hole = vugi_orifice_make(n->task->fluid, m->diameter, m->length);
    double left = n->task->pressure - vugi_head_pressure(n->task->fluid, inside_mm);
    return left > 0.0 ? fmax(0.0, vugi_orifice_flow(&hole, left)) / VUGI_MM3 : 0.0;
}

/* What a step can take at most: closed air is not pressed into a wall at once. */
static double room_left(const vugi_filling *n)
{
    bool closed = false;
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        closed |= !n->r.links.vented[i];
    return (closed ? 0.1 : 1.0) * fmax(0.0, n->r.g->capacity - n->r.liquid);
}

static double flow_rate(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    (void)ask, (void)head, (void)slope;
    return ((const vugi_filling *)f->of)->rate;
}

/* By the pressure that the inlet comes to by the end of the step itself, so that this never goes beyond what drives it. What
 * was left over goes in first. */
static double flow_driven(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_filling *n = f->of;
    bool under = f->place[2] == VUGI_NONE || f->place[2] == f->place[1];
    double inside = under ? head[1] - inlet_height(n) : head[2], step = fmax(ask->near, 1e-3);
    double flow = vugi_filling_driven(n, inside), most = room_left(n) / n->dt;
    double at = (vugi_filling_driven(n, inside - step) - flow) / step;
    if (flow < most)
        slope[under ? 1 : 2] = -at;
    return fmin(flow, most) + n->extra;
}

/* At the inlet while that is under liquid, else onto the surface below it. */
static bool add_inlet(vugi_filling *n, uint32_t fed)
{
    uint32_t inlet = n->r.task->inlet[0], stop = vugi_network_stop(&n->net, inlet);
    bool at = n->net.port[inlet] != VUGI_NONE && fed == n->inlet_arc;
    if (fed == VUGI_NONE)
        return true;
    uint32_t into = at ? stop : place_on(n, fed);
    if (!(n->task->pressure > 0.0))
        return add(n, flow_rate, 0, VUGI_NONE, into, VUGI_NONE);
    uint32_t air = n->inlet_under ? VUGI_NONE
                                  : vugi_network_air(&n->net, n->r.links.air[n->inlet_arc]);
    return add(n, flow_driven, n->inlet_under, VUGI_NONE, into, n->inlet_under ? into : air);
}

/* ---- the step ------------------------------------------------------------------------ */

/* No head lies farther off than all that comes in loses on all ways together, beyond what any part stands or is pressed by. */
static double most_head(const vugi_filling *n)
{
    return 1e8 + n->net.lost * fmax(1.0, fabs(n->rate) / n->net.most);
}

static void set_heads(vugi_filling *n)
{
    vugi_heads *b = &n->net.heads;
    const vugi_graph *g = n->r.g;
    double high = g->columns->zlo, most = most_head(n);
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (n->net.surface[a])
            high = fmax(high, n->r.level[a] + n->press[a]);
    for (uint32_t p = 0; p < b->late; p++)
        vugi_heads_from(b, p, isnan(b->known[p]) ? high : b->known[p], -most, most);
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (n->net.surface[a])
            vugi_heads_from(b, vugi_network_surface(&n->net, a), n->r.level[a] + n->press[a], -most,
                most);
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        if (n->net.airs[i])
            vugi_heads_from(b, vugi_network_air(&n->net, i), n->gas[i].excess, -most, most);
}

/* The surfaces, airs and the inlet after the step. A full arc under air runs over, or is held, or falls. */
static void take_heads(vugi_filling *n)
{
    const vugi_heads *b = &n->net.heads;
    const vugi_graph *g = n->r.g;
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        if (n->net.airs[i])
            n->gas[i].excess = vugi_heads_at(b, vugi_network_air(&n->net, i));
    memset(n->flow, 0, g->arc_count * sizeof *n->flow);
    memcpy(n->next, n->volume, g->arc_count * sizeof *n->next);
    for (size_t i = 0; i < b->flows; i++) {
        const vugi_flow *f = b->flow + i;
        if (f->law == flow_rate || f->law == flow_driven)
            n->rate = f->flow;
        if (f->law != flow_surface)
            continue;
        uint32_t a = (uint32_t)f->index;
        double z = vugi_heads_at(b, f->place[0])
            - (n->over[a] == VUGI_NONE ? 0.0 : n->gas[n->over[a]].excess);
        n->flow[a] = f->flow;
        n->next[a] = fmax(0.0, n->volume[a] + n->dt * f->flow);
        n->held[a] = n->next[a] <= 0.0 && z < g->arc[a].lo;
        n->sill_head[a] = fmax(0.0, z - g->arc[a].hi);
        if (is_full(n, a))
            n->end[a] = f->flow < 0.0 ? VUGI_END_TANK : VUGI_END_OVER;
    }
}

vug_status vugi_filling_flows(vugi_filling *n, uint32_t fed, double dt)
{
    vug_status status = find_falls(n);
    if (status)
        return status;
    if (fed != VUGI_NONE && n->end[fed] != VUGI_END_NONE)
        n->net.surface[fed] = true;
    n->dt = dt;
    bool ok = vugi_network_join(&n->net, n->r.level, &n->r.links) && add_falls(n) && add_surfaces(n)
        && add_inlet(n, fed) && vugi_gas_add(n) && vugi_heads_rows(&n->net.heads);
    if (!ok)
        return vugi_fail_memory(n->r.ctx);
    set_heads(n);
    status = vugi_heads_solve(n->r.ctx, &n->net.heads, n->net.most, n->r.g->capacity / dt);
    take_heads(n);
    return status;
}

/* ---- doors --------------------------------------------------------------------------- */

uint32_t vugi_filling_door_falls(const vugi_filling *n, size_t door, uint32_t from)
{
    const vugi_door *d = n->r.scene->door + door;
    int k = d->arc[0] == from ? 0 : 1;
    bool over = d->arc[k] == from && n->r.level[from] > fmax(d->lo, n->r.g->arc[from].lo);
    return over && n->r.level[d->arc[!k]] < d->hi ? d->arc[!k] : VUGI_NONE;
}

double vugi_filling_door_head(const vugi_filling *n)
{
    double head = 0.0;
    for (size_t i = 0; i < n->r.scene->door_count; i++) {
        const vugi_door *d = n->r.scene->door + i;
        double high = fmax(n->r.level[d->arc[0]], n->r.level[d->arc[1]]);
        if (fmin(n->r.level[d->arc[0]], n->r.level[d->arc[1]]) <= d->lo && high > d->lo)
            head = fmax(head, high - d->lo);
    }
    return head;
}

/* ---- memory ------------------------------------------------------------------------ */

/* What comes in at most, freely. */
static double most_rate(const vugi_filling *n)
{
    double most = n->task->pressure > 0.0 ? vugi_filling_driven(n, 0.0) : n->task->rate;
    for (size_t i = 0; i < n->task->rows && !(n->task->pressure > 0.0); i++)
        most = fmax(most, n->task->table[2 * i + 1]);
    return fmax(most, 1e-6);
}

static bool alloc_links(vugi_filling *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    const vugi_scene *s = n->r.scene;
    size_t links = n->r.g->link_count;
    n->sill = vugi_alloc(mem, links, sizeof *n->sill);
    n->sill_known = vugi_calloc(mem, links, sizeof *n->sill_known);
    n->basin = vugi_alloc(mem, links, sizeof *n->basin);
    n->vent = vugi_calloc(mem, s->mouth_count, sizeof *n->vent);
    for (size_t k = 0; k < links && n->basin; k++)
        n->basin[k] = VUGI_NONE;
    for (uint32_t m = 0; m < s->mouth_count && n->vent; m++)
        if (n->r.task->air_open[m])
            n->vent[m] = vugi_outlet_air(n->task->fluid, s->mouth + m,
                s->columns.zhi - s->columns.zlo);
    return n->sill && n->sill_known && n->basin && n->vent
        && vugi_links_alloc(mem, n->r.g, &n->probe);
}

static bool alloc(vugi_filling *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    size_t arcs = n->r.g->arc_count;
    double **number[] = {&n->volume, &n->next, &n->flow, &n->press, &n->rim, &n->sill_head};
    uint32_t **which[] = {&n->link, &n->to, &n->over, &n->beside};
    bool ok = true;
    for (size_t i = 0; i < sizeof number / sizeof number[0]; i++)
        ok = (*number[i] = vugi_calloc(mem, arcs, sizeof **number[i])) && ok;
    for (size_t i = 0; i < sizeof which / sizeof which[0]; i++)
        ok = (*which[i] = vugi_alloc(mem, arcs, sizeof **which[i])) && ok;
    n->end = vugi_calloc(mem, arcs, sizeof *n->end);
    n->hung = vugi_calloc(mem, arcs, sizeof *n->hung);
    n->held = vugi_calloc(mem, arcs, sizeof *n->held);
    n->gas = vugi_calloc(mem, arcs, sizeof *n->gas);
    return ok && n->end && n->hung && n->held && n->gas && alloc_links(n);
}

vug_status vugi_filling_make(vug_context *ctx, vugi_filling *n)
{
    if (!vugi_run_alloc(&n->r) || !alloc(n))
        return vugi_fail_memory(ctx);
    return vugi_network_make(ctx, n->r.scene, n->task->fluid, most_rate(n), &n->net);
}

void vugi_filling_free(vugi_filling *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    void *all[] = {n->volume, n->next, n->flow, n->press, n->rim, n->sill_head, n->link, n->to,
        n->sill, n->sill_known, n->basin, n->over, n->beside, n->end, n->hung, n->held, n->gas,
        n->vent};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(mem, all[i]);
    vugi_links_free(mem, &n->probe);
    vugi_network_free(&n->net);
    vugi_run_free(&n->r);
}
