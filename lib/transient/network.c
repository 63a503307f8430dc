/* SPDX-License-Identifier: MIT
 * One step of the network. The head at each junction, and the pressure of each piece of air, are what
 * makes the flows balance. Steps in time are implicit (backward Euler), so wide arcs, which level at once,
 * and stiff air cost no small steps; apparent viscosities are renewed until they agree with the flows. */
#include "transient/network.h"

#include "transient/doorway.h"
#include "transient/gas.h"

#include "cavity/atlas.h"
#include "gravity/cut.h"
#include "hydrostatic/linear.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { STEADY = 8, FIRM = 24, CHAIN = 8 };

/* A full arc falls when it lacks so much of the head that holds it up: not at each ripple. */
static const double fall_mm = 0.01;

/* ---- what each arc is, at the levels of now ----------------------------------- */

static uint32_t foot(const vugi_network *n, uint32_t a)
{
    return n->resistance.foot[a];
}

static uint32_t crown(const vugi_network *n, uint32_t a)
{
    return n->resistance.crown[a];
}

static bool is_full(const vugi_network *n, uint32_t a)
{
    assert(a < n->r.g->arc_count);
    return n->r.level[a] >= n->r.g->arc[a].hi;
}

/* Liquid can rise into air that has a way out, or that gives. */
static bool can_take(const vugi_network *n, uint32_t a)
{
    uint32_t air = n->r.links.air[a];
    return air != VUGI_NONE && (n->compressibility >= 0.0 || n->r.links.vented[air]);
}

static uint32_t overflow_link(const vugi_network *n, uint32_t a)
{
    return vugi_run_overflow(&n->r, a, n->compressibility < 0.0);
}

/* The arc that the inlet opens into under liquid, and the spot above it in the inlet's chamber. */
static void find_inlet(vugi_network *n)
{
    const vugi_scene *s = n->r.scene;
    const vugi_scene_mouth *m = s->mouth + n->r.task->inlet[0];
    bool under;
    n->inlet_arc = vugi_run_inlet(&n->r, n->r.task->inlet[0], &under);
    if (n->inlet_arc == VUGI_NONE)
        return;
    n->inlet_spot = crown(n, n->inlet_arc);
    int32_t chamber = s->atlas ? vugi_atlas_chamber(s->atlas, m->inside) : -1;
    uint32_t node = n->r.g->arc[n->inlet_arc].to;
    for (uint32_t i = 0; i < n->resistance.spots && chamber >= 0; i++)
        if (n->resistance.spot[i].node == node && n->resistance.spot[i].chamber == chamber)
            n->inlet_spot = i;
}

/* Liquid that stands in an arc over a dry throat leaves the air below its own way out, as the air above has. What stands
 * there already goes on. */
static bool can_hang(vugi_network *n, uint32_t a)
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

void vugi_network_classify(vugi_network *n)
{
    const vugi_graph *g = n->r.g;
    n->rows = 0;
    for (uint32_t i = 0; i < n->resistance.spots; i++) {
        uint32_t node = n->resistance.spot[i].node;
        bool active = g->node[node].ups > 0
            && (n->pit[node] || vugi_node_flooded(g, n->r.level, node));
        n->unknown[i] = active ? (uint32_t)n->rows++ : VUGI_NONE;
        n->head[i] = active ? fmax(n->head[i], g->node[node].z) : 0.0;
    }
    for (uint32_t a = 0; a < g->arc_count; a++) {
        bool full = is_full(n, a);
        n->pipe[a] = full && n->unknown[crown(n, a)] != VUGI_NONE;
        n->end[a] = VUGI_END_NONE;
        if (!full)
            n->end[a] = can_take(n, a) ? VUGI_END_TANK : VUGI_END_NONE;
        else if (!n->pipe[a] && overflow_link(n, a) != VUGI_NONE)
            n->end[a] = VUGI_END_OVER;
        n->hung[a] = can_hang(n, a);
    }
    find_inlet(n);
    vugi_doorways_place(n);
    vugi_gas_begin(n);
}

/* The highest arc over a dry throat that liquid passes on its way from one arc down to a basin; VUGI_NONE: none. */
static uint32_t hung_between(const vugi_network *n, uint32_t above, uint32_t basin)
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
static uint32_t surface_under(const vugi_network *n, uint32_t basin, uint32_t above)
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
static bool takes_feed(const vugi_network *n, uint32_t a)
{
    return n->end[a] == VUGI_END_TANK || n->end[a] == VUGI_END_OVER || n->pipe[a];
}

uint32_t vugi_network_fed(const vugi_network *n)
{
    uint32_t inlet = n->r.task->inlet[0], basin, above = VUGI_NONE;
    bool under;
    uint32_t arc = vugi_run_inlet(&n->r, inlet, &under);
    if (under && takes_feed(n, arc))
        return arc;
    basin = vugi_run_start(&n->r, inlet);
    for (size_t i = 0; i < n->r.scene->lip_count && above == VUGI_NONE; i++)
        if (n->r.scene->lip[i].mouth == inlet)
            above = n->r.scene->lip[i].arc;
    if (basin == VUGI_NONE)
        return VUGI_NONE;
    return surface_under(n, basin, above);
}

static vug_status landing_of(vugi_network *n, uint32_t a, uint32_t k, uint32_t *basin)
{
    if (n->basin[k] == VUGI_NONE) {
        vug_status status = vugi_run_go_down(&n->r, n->r.links.pool[a], n->r.g->arc[a].to, k,
            n->basin + k);
        if (status)
            return status;
        if (n->basin[k] == VUGI_NONE)
            n->basin[k] = vugi_basin_below(n->r.g, n->r.g->link[k]);
    }
    *basin = n->basin[k];
    if (n->r.links.pool[*basin]
        == n->r.links.pool[a]) /* hollows that the graph leaves out can lead back */
        *basin = vugi_basin_below(n->r.g, n->r.g->link[k]);
    return vugi_run_reach(&n->r, *basin);
}

/* From height z in an arc up to another. */
static double way_between(const vugi_network *n, uint32_t arc, double z, double to, double flow)
{
    vugi_path far = vugi_path_to(n->r.scene, &n->resistance, arc, to);
    vugi_path near = vugi_path_to(n->r.scene, &n->resistance, arc, z);
    vugi_path way = {fmax(0.0, far.length - near.length), fmax(0.0, far.thin - near.thin),
        fmax(0.0, far.edge - near.edge)};
    return flow * vugi_path_resistance(n->task->fluid, &way, flow);
}

double vugi_network_inlet_head(const vugi_network *n, double rate, bool after)
{
    const vugi_scene_mouth *m = n->r.scene->mouth + n->r.task->inlet[0];
    bool under;
    uint32_t arc = vugi_run_inlet(&n->r, n->r.task->inlet[0], &under);
    if (arc == VUGI_NONE)
        return 0.0;
    if (!under)
        return after && n->r.links.air[arc] != VUGI_NONE ? n->gas[n->r.links.air[arc]].excess
                                                         : n->press[arc];
    const vugi_arc *a = n->r.g->arc + arc;
    double middle = 0.5 * (m->top + m->lip),
           z = fmax(a->lo, fmin(a->hi, vugi_scene_mouth_inside(m)));
    double flow = rate + n->flow[arc];
    if (n->pipe[arc])
        return n->head[n->inlet_spot] - middle + way_between(n, arc, z, a->hi, flow);
    double level = after ? vugi_arc_level(n->r.g, arc, n->next[arc]) : n->r.level[arc];
    double excess = after && n->over[arc] != VUGI_NONE ? n->gas[n->over[arc]].excess
                                                       : n->press[arc];
    double end = fmin(level, a->hi);
    return level + excess - middle + way_between(n, arc, fmin(z, end), end, flow);
}

/* ---- sources ---------------------------------------------------------------------- */

/* The arc onto which liquid falls that runs over at another. */
static vug_status find_fall(vugi_network *n, uint32_t a, uint32_t *fall)
{
    uint32_t k = overflow_link(n, a), basin;
    *fall = VUGI_NONE;
    if (k == VUGI_NONE)
        return VUG_OK;
    vug_status status = landing_of(n, a, k, &basin);
    if (status)
        return status;
    *fall = surface_under(n, basin, n->r.g->link[k]);
    if (n->r.level[*fall] > n->r.g->arc[a].hi) /* no way down: straight into the neighbour */
        *fall = surface_under(n, vugi_basin_below(n->r.g, n->r.g->link[k]), n->r.g->link[k]);
    return VUG_OK;
}

/* The junction that takes what falls onto an arc without a surface. */
static uint32_t junction_of(const vugi_network *n, uint32_t a)
{
    uint32_t above = n->unknown[a == n->inlet_arc ? n->inlet_spot : crown(n, a)];
    return above != VUGI_NONE && is_full(n, a) ? above : n->unknown[foot(n, a)];
}

/* Where the liquid from the inlet falls, and from each arc that runs over. */
static vug_status place_sources(vugi_network *n, uint32_t fed)
{
    const vugi_graph *g = n->r.g;
    memset(n->direct, 0, g->arc_count * sizeof *n->direct);
    if (fed != VUGI_NONE) {
        n->direct[fed] = n->rate;
        n->source[fed] = fmax(n->source[fed], n->rate);
    }
    for (uint32_t a = 0; a < g->arc_count; a++) {
        bool runs = n->end[a] == VUGI_END_OVER && n->flow[a] + n->source[a] > 0.0;
        vug_status status = VUG_OK;
        n->to[a] = VUGI_NONE;
        if (runs && (status = find_fall(n, a, n->to + a)))
            return status;
        if (n->hung[a] && n->end[a] == VUGI_END_TANK)
            n->to[a] = surface_under(n, vugi_basin_below(g, a), vugi_arc_below(g, a));
    }
    return VUG_OK;
}

/* ---- one balance ---------------------------------------------------------------- */

/* Area by which a tank's level moves, from its volume now and at the end of the step. */
static double tank_area(const vugi_network *n, uint32_t a)
{
    const vugi_graph *g = n->r.g;
    double h = g->columns->h, level = n->r.level[a], to = vugi_arc_level(g, a, n->next[a]);
    double moved = to - level, area = vugi_arc_area(g, a, level);
    if (fabs(moved) > 1e-9)
        area = (n->next[a] - n->volume[a]) / moved;
    return fmax(area, 0.25 * h * h);
}

/* What runs over at an arc stands higher than its sill by a head that goes with the cube root of the flow, about: its
 * tangent at the flow of now is a resistance, which is returned, and a height. */
static double add_sill(vugi_network *n, uint32_t a, double *base)
{
    const vugi_graph *g = n->r.g;
    uint32_t k = overflow_link(n, a);
    n->sill_head[a] = 0.0;
    if (k == VUGI_NONE || g->sill[k] == VUGI_NONE)
        return 0.0;
    if (!n->sill_known[k])
        vugi_sill_measure(g, k, g->node[g->arc[a].to].z, n->sill + k);
    n->sill_known[k] = true;
    double flow = fmax(n->flow[a] + n->source[a], 1e-3 * n->rate + 1e-9);
    n->sill_head[a] = vugi_sill_head(n->task->fluid, n->sill + k, flow);
    double slope = n->sill_head[a] / (3.0 * flow);
    *base = n->sill_head[a] - slope * (flow - n->source[a]);
    return slope;
}

/* Up to where the way in an arc counts: a dry throat resists by all its length from the first drop. */
static double way_level(const vugi_network *n, uint32_t a)
{
    const vugi_arc *arc = n->r.g->arc + a;
    return n->hung[a] ? fmax(n->r.level[a], 0.5 * (arc->lo + arc->hi)) : n->r.level[a];
}

/* What each arc resists, and how its level moves, at the flows of the round before. Rounds that don't agree
 * soon may swing: later ones go half the way. */
static void measure_ways(vugi_network *n, int round)
{
    for (uint32_t a = 0; a < n->r.g->arc_count; a++) {
        double way = 1.0, area = tank_area(n, a); /* 1: nothing comes up to it */
        if (n->unknown[foot(n, a)] != VUGI_NONE || n->hung[a]) {
            vugi_path whole = n->pit[n->r.g->arc[a].from] ? vugi_doorways_way(n, a)
                : n->pipe[a] || n->end[a] == VUGI_END_OVER
                ? vugi_path_through(n->r.scene, &n->resistance, a)
                : vugi_path_to(n->r.scene, &n->resistance, a, way_level(n, a));
            /* Never quite nothing, so that the balance of the flows keeps its rank. */
            way = 1e-9 + vugi_path_resistance(n->task->fluid, &whole, n->flow[a]);
        }
        double base = 0.0;
        if (n->end[a] == VUGI_END_OVER)
            way += add_sill(n, a, &base);
        n->sill_base[a] = round < STEADY ? base : 0.5 * (base + n->sill_base[a]);
        n->way[a] = round < STEADY ? way : 0.5 * (way + n->way[a]);
        n->area[a] = round < STEADY ? area : 0.5 * (area + n->area[a]);
    }
    for (size_t i = 0; i < n->resistance.joints; i++) {
        const vugi_joint *c = n->resistance.joint + i;
        double way = 1e-9 + vugi_path_resistance(n->task->fluid, &c->path, n->joint_flow[i]);
        n->joint_way[i] = round < STEADY ? way : 0.5 * (way + n->joint_way[i]);
    }
    vugi_doorways_measure(n, round >= STEADY);
}

static double excess_over(const vugi_network *n, uint32_t a)
{
    return n->over[a] == VUGI_NONE ? 0.0 : n->gas[n->over[a]].excess;
}

static uint32_t air_row(const vugi_network *n, uint32_t a)
{
    return n->over[a] == VUGI_NONE ? VUGI_NONE : n->gas[n->over[a]].row;
}

/* Adds (head under the arc - excess over it - height) / resistance to the form. */
static void add_drive(vugi_network *n, uint32_t a, double height, double resistance, double share)
{
    uint32_t air = air_row(n, a);
    n->form[n->unknown[foot(n, a)]] += share / resistance;
    if (air != VUGI_NONE)
        n->form[air] -= share / resistance;
    n->form[n->rows] -= share * height / resistance;
}

static void add_falls(vugi_network *n, uint32_t arc, double share, int depth);

/* The air below a dry throat, if it has a way out; else it changes places with the liquid. */
static uint32_t air_below(const vugi_network *n, uint32_t a)
{
    const vugi_graph *g = n->r.g;
    uint32_t air = n->r.links.air[vugi_arc_below(g, a)];
    return air != VUGI_NONE && n->r.links.vented[air] ? air : VUGI_NONE;
}

/* What runs down through a dry throat: its head over the throat's end by the resistance, as the level will be. */
static void add_hung(vugi_network *n, uint32_t a, double share, int depth)
{
    double area = n->area[a], resistance = n->way[a] + n->dt / area;
    if (n->held[a]) {
        n->form[n->rows] += share * (n->volume[a] / n->dt + n->direct[a]);
        add_falls(n, a, share, depth + 1);
        return;
    }
    double head = n->r.level[a] + n->dt * n->direct[a] / area - n->r.g->arc[a].lo;
    uint32_t above = air_row(n, a), below = air_below(n, a);
    if (below != VUGI_NONE && above != VUGI_NONE) {
        n->form[above] += share / resistance;
        n->form[n->gas[below].row] -= share / resistance;
    }
    n->form[n->rows] += share * head / resistance;
    add_falls(n, a, share * n->dt / area / resistance, depth + 1);
}

/* In steps that are not cut any further, an arc with next to nothing in it that goes to and fro between giving all of that
 * and taking more gives it. */
static bool stays_held(const vugi_network *n, uint32_t a)
{
    double nothing = 1e-7 * n->r.g->capacity;
    return n->held[a] && n->firm && n->rounds >= FIRM
        && n->volume[a] + n->source[a] * n->dt < nothing;
}

static double hung_flow(vugi_network *n, uint32_t a)
{
    double area = n->area[a], all = n->volume[a] / n->dt + n->source[a];
    double head = n->r.level[a] + n->dt * n->source[a] / area - n->r.g->arc[a].lo;
    uint32_t below = air_below(n, a);
    if (below != VUGI_NONE)
        head += excess_over(n, a) - n->gas[below].excess;
    double flow = head / (n->way[a] + n->dt / area);
    n->held[a] = flow > all || stays_held(n, a);
    return n->held[a] ? all : fmax(0.0, flow);
}

/* What runs over at an arc: what comes up it, and what falls onto it from the inlet and from others. */
static void add_over(vugi_network *n, uint32_t a, double share, int depth)
{
    if (n->unknown[foot(n, a)] != VUGI_NONE && !n->held[a])
        add_drive(n, a, n->r.g->arc[a].hi + n->sill_base[a], n->way[a], share);
    n->form[n->rows] += share * n->direct[a];
    add_falls(n, a, share, depth + 1);
}

/* What runs over a sill at an arc, or down through a dry throat under it. */
static void add_source(vugi_network *n, uint32_t a, double share, int depth)
{
    if (n->end[a] == VUGI_END_OVER)
        add_over(n, a, share, depth);
    else
        add_hung(n, a, share, depth);
}

/* What falls onto an arc over sills and through dry throats, one after the other. */
static void add_falls(vugi_network *n, uint32_t arc, double share, int depth)
{
    for (uint32_t a = 0; a < n->r.g->arc_count && depth <= CHAIN; a++)
        if (n->to[a] == arc)
            add_source(n, a, share, depth);
}

static void clear_form(vugi_network *n)
{
    memset(n->form, 0, (n->rows + 1) * sizeof *n->form);
}

/* The flow of the form leaves by the equation of a row, or enters. */
static void put_form(vugi_network *n, uint32_t row, double sign)
{
    assert(row < n->rows);
    for (size_t k = 0; k < n->rows; k++)
        n->matrix[row * n->rows + k] += sign * n->form[k];
    n->right[row] -= sign * n->form[n->rows];
}

/* A surface between the junction under its arc and its air. */
static void put_tank(vugi_network *n, uint32_t a, double dt)
{
    uint32_t node = n->unknown[foot(n, a)], air = air_row(n, a);
    clear_form(n);
    if (node != VUGI_NONE && n->held[a]) {
        add_falls(n, a, -1.0, 0);
        n->form[n->rows] -= n->volume[a] / dt + n->direct[a];
    } else if (node != VUGI_NONE) {
        double area = n->area[a], resistance = n->way[a] + dt / area;
        add_drive(n, a, n->r.level[a] + dt * n->direct[a] / area, resistance, 1.0);
        add_falls(n, a, -dt / area / resistance, 0);
    }
    if (node != VUGI_NONE)
        put_form(n, node, 1.0);
    if (air != VUGI_NONE) {
        add_falls(n, a, 1.0, 0);
        n->form[n->rows] += n->direct[a];
        if (n->to[a] != VUGI_NONE)
            add_hung(n, a, -1.0, 0);
        put_form(n, air, -1.0);
    }
}

/* Flow between two rows. */
static void put_link(vugi_network *n, uint32_t from, uint32_t to, double way)
{
    size_t rows = n->rows;
    n->matrix[from * rows + from] += 1.0 / way;
    n->matrix[from * rows + to] -= 1.0 / way;
    n->matrix[to * rows + to] += 1.0 / way;
    n->matrix[to * rows + from] -= 1.0 / way;
}

static void put_pipe(vugi_network *n, uint32_t a)
{
    put_link(n, n->unknown[foot(n, a)], n->unknown[crown(n, a)], n->way[a]);
}

/* What joins two spots besides the arcs is open. */
static bool joint_open(const vugi_network *n, const vugi_joint *c)
{
    bool pipe = c->arc != VUGI_NONE && n->pipe[c->arc];
    return n->unknown[c->from] != VUGI_NONE && n->unknown[c->to] != VUGI_NONE
        && (c->kind == VUGI_JOINT_THROAT || (c->kind == VUGI_JOINT_PIPE) == pipe);
}

static void put_joints(vugi_network *n)
{
    for (size_t i = 0; i < n->resistance.joints; i++) {
        const vugi_joint *c = n->resistance.joint + i;
        if (joint_open(n, c))
            put_link(n, n->unknown[c->from], n->unknown[c->to], n->joint_way[i]);
    }
}

static void put_over(vugi_network *n, uint32_t a)
{
    uint32_t node = n->unknown[foot(n, a)];
    if (node == VUGI_NONE)
        return;
    if (n->held[a]) { /* all that falls onto it goes down */
        n->right[node] += n->source[a];
        return;
    }
    clear_form(n);
    add_drive(n, a, n->r.g->arc[a].hi + n->sill_base[a], n->way[a], 1.0);
    put_form(n, node, 1.0);
}

/* What runs over onto an arc without a surface. */
static void put_drowned(vugi_network *n, uint32_t a)
{
    if (n->to[a] == VUGI_NONE || n->end[n->to[a]] != VUGI_END_NONE)
        return;
    uint32_t row = junction_of(n, n->to[a]);
    clear_form(n);
    add_source(n, a, 1.0, 0);
    if (row != VUGI_NONE)
        put_form(n, row, -1.0);
}

/* Heads of pools without an end stay what they were: for the others that is next to nothing, and ever less from round to
 * round. */
static void pin(vugi_network *n)
{
    for (uint32_t i = 0; i < n->resistance.spots; i++) {
        size_t row = n->unknown[i];
        if (row == VUGI_NONE)
            continue;
        double hold = 1e-12 + 1e-13 * fabs(n->matrix[row * n->rows + row]);
        n->matrix[row * n->rows + row] += hold;
        n->right[row] += hold * n->head[i];
    }
}

/* false: the heads are not determined. */
static bool balance(vugi_network *n, double dt)
{
    const vugi_graph *g = n->r.g;
    size_t rows = n->rows;
    memset(n->matrix, 0, rows * rows * sizeof *n->matrix);
    memset(n->right, 0, rows * sizeof *n->right);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (n->end[a] == VUGI_END_TANK) {
            put_tank(n, a, dt);
            put_drowned(n, a);
        } else if (n->end[a] == VUGI_END_OVER) {
            put_over(n, a);
            put_drowned(n, a);
        } else if (n->pipe[a] && n->unknown[foot(n, a)] != VUGI_NONE) {
            put_pipe(n, a);
        }
        if (n->end[a] == VUGI_END_NONE && n->direct[a] > 0.0 && junction_of(n, a) != VUGI_NONE)
            n->right[junction_of(n, a)] += n->direct[a];
    }
    put_joints(n);
    vugi_doorways_put(n);
    vugi_gas_balance(n, dt);
    pin(n);
    if (!vugi_eliminate(n->matrix, n->right, rows))
        return false;
    for (uint32_t i = 0; i < n->resistance.spots; i++)
        if (n->unknown[i] != VUGI_NONE)
            n->head[i] = n->right[n->unknown[i]];
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        if (n->gas[i].row != VUGI_NONE)
            n->gas[i].excess = n->right[n->gas[i].row];
    return true;
}

/* ---- flows ------------------------------------------------------------------------ */

static double drive_over(const vugi_network *n, uint32_t a)
{
    const vugi_arc *arc = n->r.g->arc + a;
    uint32_t spot = foot(n, a);
    return n->unknown[spot] == VUGI_NONE
        ? 0.0
        : n->head[spot] - arc->hi - n->sill_base[a] - excess_over(n, a);
}

/* What falls onto each arc, and over from it: as many passes as sills follow one another. An arc can lose
 * downward no more than falls onto it. */
static void pass_over(vugi_network *n)
{
    size_t arcs = n->r.g->arc_count;
    bool more = true;
    memcpy(n->source, n->direct, arcs * sizeof *n->source);
    for (int pass = 0; pass < CHAIN && more; pass++) {
        memcpy(n->fallen, n->direct, arcs * sizeof *n->fallen);
        for (uint32_t a = 0; a < arcs; a++) {
            if (n->end[a] == VUGI_END_TANK && n->to[a] != VUGI_NONE) {
                n->flow[a] = -hung_flow(n, a);
                n->fallen[n->to[a]] -= n->flow[a];
            }
            if (n->end[a] != VUGI_END_OVER)
                continue;
            n->flow[a] = fmax(-n->source[a], drive_over(n, a) / n->way[a]);
            if (n->to[a] != VUGI_NONE)
                n->fallen[n->to[a]] += n->flow[a] + n->source[a];
        }
        more = memcmp(n->fallen, n->source, arcs * sizeof *n->source) != 0;
        memcpy(n->source, n->fallen, arcs * sizeof *n->source);
    }
}

/* A full arc under air runs over, or is held, or falls: below its sill, not only below the head over it. */
static void judge_over(vugi_network *n, uint32_t a)
{
    double drive = drive_over(n, a);
    bool lacks = drive / n->way[a] < -n->source[a],
         falls = lacks && drive + n->sill_base[a] < -fall_mm;
    n->held[a] = lacks && !falls;
    n->end[a] = falls ? VUGI_END_TANK : VUGI_END_OVER;
}

static double flow_into_tank(vugi_network *n, uint32_t a, double dt)
{
    double area = n->area[a], all = -n->volume[a] / dt - n->source[a];
    double height = n->r.level[a] + dt * n->source[a] / area + excess_over(n, a);
    double flow = (n->head[foot(n, a)] - height) / (n->way[a] + dt / area);
    n->held[a] = flow < all || stays_held(n, a);
    return n->held[a] ? all : flow;
}

/* What runs over first, for the tanks that it falls onto; pipes with it. */
static void flows_of_heads(vugi_network *n, double dt)
{
    const vugi_graph *g = n->r.g;
    pass_over(n);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (n->end[a] == VUGI_END_OVER)
            judge_over(n, a);
        bool under = n->unknown[foot(n, a)] != VUGI_NONE;
        if (n->pipe[a] && under)
            n->flow[a] = (n->head[foot(n, a)] - n->head[crown(n, a)]) / n->way[a];
        else if (n->end[a] == VUGI_END_NONE || (!under && n->to[a] == VUGI_NONE))
            n->flow[a] = 0.0;
    }
    for (size_t i = 0; i < n->resistance.joints; i++) {
        const vugi_joint *c = n->resistance.joint + i;
        n->joint_flow[i] = joint_open(n, c) ? (n->head[c->from] - n->head[c->to]) / n->joint_way[i]
                                            : 0.0;
    }
    vugi_doorways_flow(n);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (n->end[a] != VUGI_END_TANK || n->unknown[foot(n, a)] == VUGI_NONE)
            continue;
        n->flow[a] = flow_into_tank(n, a, dt);
        if (is_full(n, a) && n->flow[a] + n->source[a] > 0.0 && overflow_link(n, a) != VUGI_NONE)
            n->end[a] = VUGI_END_OVER;
    }
}

/* New flows from the heads. Returns the greatest change. */
static double renew_flows(vugi_network *n, double dt, double *old)
{
    const vugi_graph *g = n->r.g;
    double change = 0.0;
    memcpy(old, n->flow, g->arc_count * sizeof *old);
    flows_of_heads(n, dt);
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        n->gas[i].now = n->gas[i].before;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        n->next[a] = n->volume[a]
            + (n->end[a] == VUGI_END_TANK ? dt * (n->flow[a] + n->source[a]) : 0.0);
        if (n->over[a] != VUGI_NONE)
            n->gas[n->over[a]].now -= n->next[a] - n->volume[a];
        change = fmax(change, fabs(n->flow[a] - old[a]));
    }
    return change;
}

vug_status vugi_network_flows(vugi_network *n, uint32_t fed, double dt)
{
    bool more = true;
    n->dt = dt;
    for (n->rounds = 0; n->rounds < VUGI_NETWORK_ROUNDS && more; n->rounds++) {
        vug_status status = place_sources(n, fed);
        if (status)
            return status;
        measure_ways(n, (int)n->rounds);
        vugi_gas_leaks(n);
        bool solved = balance(n, dt);
        n->change = solved ? renew_flows(n, dt, n->before) : INFINITY;
        more = solved && n->change > 1e-6 * n->rate + 1e-9;
    }
    return VUG_OK;
}

/* ---- memory ------------------------------------------------------------------------ */

static bool alloc_joints_and_sills(vugi_network *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    size_t arcs = n->r.g->arc_count, joints = n->resistance.joints, links = n->r.g->link_count;
    n->joint_way = vugi_calloc(mem, joints, sizeof *n->joint_way);
    n->joint_flow = vugi_calloc(mem, joints, sizeof *n->joint_flow);
    n->sill_head = vugi_calloc(mem, arcs, sizeof *n->sill_head);
    n->sill_base = vugi_calloc(mem, arcs, sizeof *n->sill_base);
    n->sill = vugi_alloc(mem, links, sizeof *n->sill);
    n->sill_known = vugi_calloc(mem, links, sizeof *n->sill_known);
    n->basin = vugi_alloc(mem, links, sizeof *n->basin);
    n->hung = vugi_calloc(mem, arcs, sizeof *n->hung);
    return n->joint_way && n->joint_flow && n->sill_head && n->sill_base && n->sill && n->sill_known
        && n->basin && n->hung && vugi_links_alloc(mem, n->r.g, &n->probe) && vugi_doorways_make(n);
}

/* The equations of a step and their unknowns. */
static bool alloc_system(vugi_network *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    size_t nodes = n->resistance.spots, rows = nodes + n->r.g->arc_count;
    n->form = vugi_alloc(mem, rows + 1, sizeof *n->form);
    n->head = vugi_calloc(mem, nodes, sizeof *n->head);
    n->matrix = vugi_alloc(mem, rows * rows, sizeof *n->matrix);
    n->right = vugi_alloc(mem, rows, sizeof *n->right);
    n->unknown = vugi_alloc(mem, nodes, sizeof *n->unknown);
    return n->form && n->head && n->matrix && n->right && n->unknown;
}

bool vugi_network_alloc(vugi_network *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    size_t arcs = n->r.g->arc_count;
    n->volume = vugi_calloc(mem, arcs, sizeof *n->volume);
    n->next = vugi_calloc(mem, arcs, sizeof *n->next);
    n->flow = vugi_calloc(mem, arcs, sizeof *n->flow);
    n->before = vugi_calloc(mem, arcs, sizeof *n->before);
    n->source = vugi_calloc(mem, arcs, sizeof *n->source);
    n->direct = vugi_calloc(mem, arcs, sizeof *n->direct);
    n->fallen = vugi_alloc(mem, arcs, sizeof *n->fallen);
    n->to = vugi_alloc(mem, arcs, sizeof *n->to);
    n->way = vugi_calloc(mem, arcs, sizeof *n->way);
    n->area = vugi_calloc(mem, arcs, sizeof *n->area);
    n->press = vugi_calloc(mem, arcs, sizeof *n->press);
    n->over = vugi_alloc(mem, arcs, sizeof *n->over);
    n->beside = vugi_alloc(mem, arcs, sizeof *n->beside);
    n->end = vugi_alloc(mem, arcs, sizeof *n->end);
    n->pipe = vugi_alloc(mem, arcs, sizeof *n->pipe);
    n->held = vugi_alloc(mem, arcs, sizeof *n->held);
    n->gas = vugi_calloc(mem, arcs, sizeof *n->gas);
    return alloc_system(n) && alloc_joints_and_sills(n) && n->volume && n->next && n->flow
        && n->before && n->source && n->direct && n->fallen && n->to && n->way && n->area
        && n->press && n->over && n->beside && n->end && n->pipe && n->held && n->gas;
}

void vugi_network_free(vugi_network *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    void *all[] = {n->volume, n->next, n->flow, n->before, n->source, n->direct, n->fallen, n->to,
        n->form, n->way, n->area, n->press, n->head, n->matrix, n->right, n->unknown, n->joint_way,
        n->joint_flow, n->sill_head, n->sill_base, n->sill, n->sill_known, n->basin, n->over,
        n->beside, n->end, n->pipe, n->held, n->hung, n->doorway, n->pit, n->gas};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(mem, all[i]);
    vugi_links_free(mem, &n->probe);
    vugi_resistance_free(mem, &n->resistance);
    vugi_run_free(&n->r);
}
