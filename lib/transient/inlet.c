/* SPDX-License-Identifier: MIT
 * The inlet of a fill in time: where it feeds, and what it lets in. */
#include "transient/inlet.h"

#include "transient/falls.h"
#include "transient/surfaces.h"

#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/hole.h"
#include "hydrostatic/liquid.h"

#include <math.h>

/* ---- where it feeds ------------------------------------------------------------------ */

/* Liquid in the arc can take more: to its surface, or to where arcs join above. */
static bool takes_feed(const vugi_filling *n, uint32_t a)
{
    return n->end[a] != VUGI_END_NONE
        || (vugi_surfaces_full(n, a) && vugi_node_flooded(n->r.g, n->r.level, n->r.g->arc[a].to));
}

uint32_t vugi_inlet_fed(const vugi_filling *n)
{
    uint32_t inlet = n->r.task->inlet[0], basin, above = VUGI_NONE;
    if (n->inlet_under && takes_feed(n, n->inlet_arc))
        return n->inlet_arc;
    basin = vugi_run_start(&n->r, inlet);
    for (size_t i = 0; i < n->r.scene->lip_count && above == VUGI_NONE; i++)
        if (n->r.scene->lip[i].mouth == inlet)
            above = n->r.scene->lip[i].arc;
    return basin == VUGI_NONE ? VUGI_NONE : vugi_falls_onto(n, basin, above);
}

/* ---- how much ------------------------------------------------------------------------ */

static double inlet_height(const vugi_filling *n)
{
    const vugi_scene_mouth *m = n->r.scene->mouth + n->r.task->inlet[0];
    return 0.5 * (m->top + m->lip);
}

double vugi_inlet_inside(const vugi_filling *n)
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

double vugi_inlet_driven(const vugi_filling *n, double inside_mm)
{
    const vugi_scene_mouth *m = n->r.scene->mouth + n->r.task->inlet[0];
    vugi_orifice hole = (n->inlet_under ? vugi_orifice_immersed : vugi_orifice_make)(n->task->fluid,
        m->tubes.diameter, m->length);
    double left = n->task->pressure - vugi_head_pressure(n->task->fluid, inside_mm);
    return left > 0.0 ? m->tubes.count * fmax(0.0, vugi_orifice_flow(&hole, left)) / VUGI_MM3 : 0.0;
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

/* By the pressure that the inlet comes to by the end of the step itself, so that this never goes beyond what drives it. */
static double flow_driven(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_filling *n = f->of;
    bool under = f->place[2] == VUGI_NONE || f->place[2] == f->place[1];
    double inside = under ? head[1] - inlet_height(n) : head[2], step = fmax(ask->near, 1e-3);
    double flow = vugi_inlet_driven(n, inside), most = room_left(n) / n->dt;
    double at = (vugi_inlet_driven(n, inside - step) - flow) / step;
    if (flow < most)
        slope[under ? 1 : 2] = -at;
    return fmin(flow, most);
}

/* At the inlet while that is under liquid, else onto the surface below it. */
bool vugi_inlet_add(vugi_filling *n, uint32_t fed)
{
    uint32_t inlet = n->r.task->inlet[0], stop = vugi_network_stop(&n->net, inlet);
    bool at = n->net.port[inlet] != VUGI_NONE && fed == n->inlet_arc;
    if (fed == VUGI_NONE)
        return true;
    uint32_t into = at ? stop : vugi_surfaces_place(n, fed);
    if (!(n->task->pressure > 0.0))
        return vugi_heads_put(&n->net.heads, flow_rate, n, 0, VUGI_NONE, into, VUGI_NONE);
    uint32_t air = n->inlet_under ? VUGI_NONE
                                  : vugi_network_air(&n->net, n->r.links.air[n->inlet_arc]);
    return vugi_heads_put(&n->net.heads, flow_driven, n, n->inlet_under, VUGI_NONE, into,
        n->inlet_under ? into : air);
}

void vugi_inlet_take(vugi_filling *n)
{
    const vugi_heads *b = &n->net.heads;
    for (size_t i = 0; i < b->flows; i++)
        if (b->flow[i].law == flow_rate || b->flow[i].law == flow_driven)
            n->rate = b->flow[i].flow;
}
