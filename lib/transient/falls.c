/* SPDX-License-Identifier: MIT
 * What runs over sills, down through dry throats and through doors, and onto which surface it falls. */
#include "transient/falls.h"

#include "transient/gas.h"
#include "transient/surfaces.h"

#include "gravity/cut.h"

#include <math.h>
#include <string.h>

/* ---- where it falls ------------------------------------------------------------------ */

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
uint32_t vugi_falls_onto(const vugi_filling *n, uint32_t basin, uint32_t above)
{
    const vugi_graph *g = n->r.g;
    uint32_t pool = n->r.links.pool[basin], *stack = n->r.rising, *seen = n->r.visited;
    size_t count = 0;
    uint32_t hung = above == VUGI_NONE ? VUGI_NONE : hung_between(n, above, basin);
    if (hung != VUGI_NONE)
        return hung;
    if (pool == VUGI_NONE || n->end[basin] != VUGI_END_NONE || above == VUGI_NONE
        || vugi_surfaces_full(n, above))
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
    *fall = vugi_falls_onto(n, basin, below);
    if (n->r.level[*fall] > n->r.g->arc[a].hi) /* no way down: straight into the neighbour */
        *fall = vugi_falls_onto(n, vugi_basin_below(n->r.g, below), below);
    return VUG_OK;
}

vug_status vugi_falls_find(vugi_filling *n)
{
    const vugi_graph *g = n->r.g;
    vug_status status = VUG_OK;
    for (uint32_t a = 0; a < g->arc_count && !status; a++) {
        n->to[a] = VUGI_NONE;
        if (n->end[a] == VUGI_END_OVER)
            status = find_fall(n, a, n->to + a);
        else if (n->hung[a] && n->end[a] == VUGI_END_TANK)
            n->to[a] = vugi_falls_onto(n, vugi_basin_below(g, a), vugi_arc_below(g, a));
        if (n->to[a] != VUGI_NONE && n->end[n->to[a]] != VUGI_END_NONE)
            n->net.surface[n->to[a]] = true;
    }
    return status;
}

/* ---- how much ------------------------------------------------------------------------ */

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
    if (!vugi_path_resists(&way)) {
        *slope = over + ask->near > 0.0 ? n->net.stiff : 0.0;
        return n->net.stiff * fmax(0.0, over);
    }
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
    uint32_t air = n->r.links.air[vugi_arc_below(n->r.g, a)], place = vugi_surfaces_place(n, a);
    uint32_t below = vugi_network_air(&n->net, air);
    bool vented = below != VUGI_NONE && n->r.links.vented[air];
    bool shut = below != VUGI_NONE && !vented && vugi_surfaces_air(n, a) != VUGI_NONE;
    return vugi_heads_put(&n->net.heads, flow_hung, n, a, place, vugi_surfaces_place(n, n->to[a]),
               vented ? below : VUGI_NONE)
        && (!shut || vugi_gas_pass(n, flow_exchange, a, air, n->over[a], place));
}

bool vugi_falls_add(vugi_filling *n)
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
        ok = vugi_heads_put(&n->net.heads, flow_over, n, a, vugi_surfaces_place(n, a),
            vugi_surfaces_place(n, n->to[a]), vugi_surfaces_air(n, a));
    }
    return ok;
}

vug_status vugi_falls_note(vugi_filling *n)
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

/* ---- doors --------------------------------------------------------------------------- */

uint32_t vugi_falls_by_door(const vugi_filling *n, size_t door, uint32_t from)
{
    const vugi_door *d = n->r.scene->door + door;
    int k = d->arc[0] == from ? 0 : 1;
    bool over = d->arc[k] == from && n->r.level[from] > fmax(d->lo, n->r.g->arc[from].lo);
    return over && n->r.level[d->arc[!k]] < d->hi ? d->arc[!k] : VUGI_NONE;
}

double vugi_falls_door_head(const vugi_filling *n)
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
