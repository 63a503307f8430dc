/* SPDX-License-Identifier: MIT
 * Air in a fill. */
#include "transient/gas.h"

#include "hydrostatic/coupled.h"

#include <assert.h>
#include <math.h>

/* Air enters the arcs below its own for so much head that is lower elsewhere in the pool. */
static const double draw_mm = 0.01;

/* Bubbles hold back so much, mm, when all that is injected escapes as bubbles. */
static const double bubble_mm = 0.1;

/* Closed air that is stretched beyond so much of the pressure outside goes on in proportion. */
static const double least_part = 0.1;

static bool dry_on_liquid(const vugi_filling *n, uint32_t a)
{
    assert(a < n->r.g->arc_count);
    const vugi_graph *g = n->r.g;
    return n->r.level[a] <= g->arc[a].lo && vugi_node_flooded(g, n->r.level, g->arc[a].from);
}

void vugi_gas_begin(vugi_filling *n)
{
    const vugi_graph *g = n->r.g;
    bool bare;
    for (uint32_t i = 0; i < n->r.links.air_count; i++) {
        n->gas[i] = (vugi_gas){.excess = 0.0};
        n->net.airs[i] = n->compressibility >= 0.0;
    }
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
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        n->gas[i].excess = n->gas[i].before > 0.0 ? n->gas[i].excess / n->gas[i].before : 0.0;
}

/* ---- flows ------------------------------------------------------------------------- */

/* By what the air shrinks under its pressure, it takes. */
static double flow_boyle(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_filling *n = f->of;
    const vugi_gas *c = n->gas + f->index;
    double all = 1.0 + n->compressibility * head[0], part = fmax(least_part, all);
    (void)ask;
    slope[0] = n->compressibility * c->amount / (part * part) / n->dt;
    return (c->before - c->amount / part * (1.0 + (part - all) / part)) / n->dt;
}

/* As far as the air in a dry arc is above the pressure of the liquid under it. */
static double flow_bubbles(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_filling *n = f->of;
    double over = head[0] - (head[2] - n->r.g->arc[f->index].lo);
    double rate = 1e-3 + fabs(n->rate) / bubble_mm;
    slope[0] = over + ask->near > 0.0 ? rate : 0.0;
    slope[2] = -slope[0];
    return rate * fmax(0.0, over);
}

bool vugi_gas_pass(vugi_filling *n, vugi_flow_law law, uint32_t arc, uint32_t air, uint32_t to,
    uint32_t by)
{
    uint32_t a = vugi_network_air(&n->net, air), b = vugi_network_air(&n->net, to);
    double more = n->compressibility * (n->gas[to].excess - n->gas[air].excess);
    double lost = more / (1.0 + n->compressibility * n->gas[to].excess);
    return vugi_heads_add(&n->net.heads, (vugi_flow){law, n, arc, {a, b, by}, {0}, 0.0, lost});
}

bool vugi_gas_add(vugi_filling *n)
{
    const vugi_scene *s = n->r.scene;
    bool ok = true;
    for (uint32_t i = 0; i < n->r.links.air_count && ok; i++) {
        uint32_t place = vugi_network_air(&n->net, i);
        if (place == VUGI_NONE)
            continue;
        ok = vugi_heads_put(&n->net.heads, flow_boyle, n, i, place, VUGI_NONE, VUGI_NONE);
        for (uint32_t m = 0; m < s->mouth_count && ok; m++)
            if (n->r.task->air_open[m] && vugi_links_open_to(s, n->r.level, &n->r.links, m, i))
                ok = vugi_heads_put(&n->net.heads, vugi_outlet_law_air, n->vent + m, m, place,
                    VUGI_NONE, VUGI_NONE);
    }
    for (uint32_t a = 0; a < n->r.g->arc_count && ok; a++) {
        uint32_t air = n->r.links.air[a];
        if (n->beside[a] != VUGI_NONE && air != VUGI_NONE && n->beside[a] != air)
            ok = vugi_gas_pass(n, flow_bubbles, a, air, n->beside[a], n->net.resistance.foot[a]);
    }
    return ok;
}

/* ---- bared --------------------------------------------------------------------------- */

/* Whether the pool has a surface with less head than that of a dry arc over it: liquid goes there. */
static bool drawn_down(const vugi_filling *n, uint32_t a)
{
    assert(a < n->r.g->arc_count);
    double head = n->r.g->arc[a].lo + n->gas[n->r.links.air[a]].excess - draw_mm;
    for (uint32_t b = 0; b < n->r.g->arc_count; b++)
        if (n->r.links.pool[b] == n->r.links.pool[a] && n->over[b] != VUGI_NONE
            && n->r.level[b] + n->gas[n->over[b]].excess < head)
            return true;
    return false;
}

void vugi_gas_find_bared(vugi_filling *n)
{
    const vugi_graph *g = n->r.g;
    n->bared = VUGI_NONE;
    for (uint32_t a = 0; a < g->arc_count && n->compressibility >= 0.0; a++) {
        bool bare = dry_on_liquid(n, a) && n->held[a];
        if (bare)
            vugi_air_beside(&n->r, a, &bare);
        if (bare && drawn_down(n, a))
            n->bared = g->arc[a].from;
    }
}
