/* SPDX-License-Identifier: MIT
 * Air in the network: it shrinks under pressure (Boyle), leaves by the mouths that it reaches as
 * vug_hole_flow() of air, and bubbles into the air beside it when it is pressed down to the lower end of
 * its arc. */
#include "transient/gas.h"

#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/hole.h"
#include "hydrostatic/coupled.h"
#include "hydrostatic/liquid.h"

#include <assert.h>
#include <math.h>

static const double least_mm = 1e-6; /* an excess for which the flow is as good as proportional */

/* Air enters the arcs below its own for so much head that is lower elsewhere in the pool. */
static const double draw_mm = 0.01;

/* Bubbles hold back so much, mm, when all that is injected escapes as bubbles. */
static const double bubble_mm = 0.1;

static bool dry_on_liquid(const vugi_network *n, uint32_t a)
{
    assert(a < n->r.g->arc_count);
    const vugi_graph *g = n->r.g;
    return n->r.level[a] <= g->arc[a].lo && vugi_node_flooded(g, n->r.level, g->arc[a].from);
}

void vugi_gas_begin(vugi_network *n)
{
    const vugi_graph *g = n->r.g;
    bool bare;
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        n->gas[i] = (vugi_gas){.row = n->compressibility >= 0.0 ? (uint32_t)n->rows++ : VUGI_NONE};
    for (uint32_t a = 0; a < g->arc_count; a++) {
        uint32_t air = n->r.links.air[a];
        n->over[a] = vugi_air_over(&n->r, a);
        n->beside[a] = n->compressibility >= 0.0 && dry_on_liquid(n, a)
            ? vugi_air_beside(&n->r, a, &bare)
            : VUGI_NONE;
        n->held[a] = false;
        if (air == VUGI_NONE || n->compressibility < 0.0)
            continue;
        vugi_gas *c = n->gas + air;
        double volume = g->arc[a].volume - n->volume[a];
        c->before += volume;
        c->amount += volume * (1.0 + n->compressibility * n->press[a]);
        c->excess += volume * n->press[a];
    }
    for (uint32_t i = 0; i < n->r.links.air_count; i++) {
        vugi_gas *c = n->gas + i;
        c->excess = c->before > 0.0 ? c->excess / c->before : 0.0;
        c->now = c->before;
    }
}

/* ---- leaks ----------------------------------------------------------------------- */

static bool open_to(const vugi_network *n, uint32_t mouth, uint32_t air)
{
    assert(mouth < n->r.scene->mouth_count);
    const vugi_scene *s = n->r.scene;
    for (size_t i = 0; i < s->vent_count; i++) {
        const vugi_port *p = s->vent + i;
        if (p->mouth == mouth && n->r.links.air[p->arc] == air
            && vugi_port_free(n->r.g, n->r.level, p))
            return true;
    }
    return false;
}

static void pass_vents(vugi_network *n)
{
    const vugi_scene *s = n->r.scene;
    double pa_per_mm = vugi_head_pressure(n->task->fluid, 1.0);
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        n->gas[i].vents = 0.0;
    for (uint32_t m = 0; m < s->mouth_count; m++) {
        if (!n->r.task->air_open[m])
            continue;
        vugi_orifice hole = vugi_orifice_immersed(vugi_air_fluid(), s->mouth[m].diameter,
            s->mouth[m].length);
        for (uint32_t i = 0; i < n->r.links.air_count; i++) {
            vugi_gas *c = n->gas + i;
            if (!n->r.links.vented[i] || !open_to(n, m, i))
                continue;
            double excess = fmax(least_mm, fabs(c->excess));
            c->vents += fmax(0.0, vugi_orifice_flow(&hole, excess * pa_per_mm)) / VUGI_MM3 / excess;
        }
    }
}

static double bubble_rate(const vugi_network *n)
{
    return 1e-3 + n->rate / bubble_mm;
}

/* How far above the pressure of the liquid under it the air in a dry arc is, mm. */
static double pressed_out(const vugi_network *n, uint32_t a)
{
    assert(a < n->r.g->arc_count);
    const vugi_arc *arc = n->r.g->arc + a;
    return n->gas[n->r.links.air[a]].excess - (n->head[n->resistance.foot[a]] - arc->lo);
}

static bool escapes(const vugi_network *n, uint32_t a)
{
    assert(a < n->r.g->arc_count);
    uint32_t air = n->r.links.air[a];
    return n->beside[a] != VUGI_NONE && air != VUGI_NONE && n->beside[a] != air
        && n->unknown[n->resistance.foot[a]] != VUGI_NONE;
}

/* Air below a dry throat that has no other way out comes up as the liquid goes down. */
static void exchange(vugi_network *n, uint32_t a)
{
    const vugi_graph *g = n->r.g;
    uint32_t below = n->r.links.air[vugi_arc_below(g, a)];
    if (n->end[a] != VUGI_END_TANK || n->to[a] == VUGI_NONE || below == VUGI_NONE
        || n->over[a] == VUGI_NONE || n->r.links.vented[below])
        return;
    n->gas[below].gained += n->flow[a];
    n->gas[n->over[a]].gained -= n->flow[a];
}

void vugi_gas_leaks(vugi_network *n)
{
    if (n->compressibility < 0.0)
        return;
    pass_vents(n);
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        n->gas[i].gained = 0.0;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        if (escapes(n, a))
            n->gas[n->beside[a]].gained += bubble_rate(n) * fmax(0.0, pressed_out(n, a));
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        exchange(n, a);
}

/* Whether the pool has a surface with less head than that of a dry arc over it: liquid goes there. */
static bool drawn_down(const vugi_network *n, uint32_t a)
{
    assert(a < n->r.g->arc_count);
    double head = n->r.g->arc[a].lo + n->gas[n->r.links.air[a]].excess - draw_mm;
    for (uint32_t b = 0; b < n->r.g->arc_count; b++)
        if (n->r.links.pool[b] == n->r.links.pool[a] && n->over[b] != VUGI_NONE
            && n->r.level[b] + n->gas[n->over[b]].excess < head)
            return true;
    return false;
}

void vugi_gas_find_bared(vugi_network *n)
{
    const vugi_graph *g = n->r.g;
    n->bared = VUGI_NONE;
    for (uint32_t a = 0; a < g->arc_count && n->compressibility >= 0.0; a++) {
        uint32_t from = g->arc[a].from;
        bool bare = dry_on_liquid(n, a) && n->held[a]
            && n->unknown[n->resistance.foot[a]] != VUGI_NONE;
        if (bare)
            vugi_air_beside(&n->r, a, &bare);
        if (bare && drawn_down(n, a))
            n->bared = from;
    }
}

/* ---- the balance ------------------------------------------------------------------- */

/* Pressure of the round before, over that outside; the tangent to Boyle's law is taken there. */
static double pressed(const vugi_network *n, const vugi_gas *c)
{
    return fmax(0.1, 1.0 + n->compressibility * c->excess);
}

/* For each air: amount = (1 + give excess) volume afterwards, with what leaked; by its tangent, over dt and the pressure of
 * the round before. The surfaces' share in the volume stands in the matrix already. */
void vugi_gas_balance(vugi_network *n, double dt)
{
    assert(dt > 0.0);
    for (uint32_t i = 0; i < n->r.links.air_count; i++) {
        const vugi_gas *c = n->gas + i;
        if (c->row == VUGI_NONE)
            continue;
        double part = pressed(n, c), now = fmax(1e-3 * c->before, c->now);
        n->matrix[c->row * n->rows + c->row] += (n->compressibility * now / dt + c->vents) / part
            + 1e-12;
        n->right[c->row] += ((c->amount + (part - 1.0) * now) / part - c->before) / dt
            + c->gained / part;
    }
    for (uint32_t a = 0; a < n->r.g->arc_count; a++) {
        const vugi_arc *arc = n->r.g->arc + a;
        if (!escapes(n, a) || !(n->held[a] || pressed_out(n, a) > 0.0))
            continue;
        const vugi_gas *c = n->gas + n->r.links.air[a];
        double rate = bubble_rate(n) / pressed(n, c);
        n->matrix[c->row * n->rows + c->row] += rate;
        n->right[c->row] += rate * (n->head[n->resistance.foot[a]] - arc->lo);
    }
}
