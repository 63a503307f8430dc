/* SPDX-License-Identifier: MIT
 * Pools over slots in walls. */
#include "transient/perch.h"

#include <assert.h>
#include <math.h>

/* The throat inside the arc that begins or ends at a spot: its joint, or VUGI_NONE. */
static uint32_t throat_at(const vugi_resistance *r, uint32_t arc, uint32_t spot)
{
    for (size_t i = 0; i < r->joints; i++) {
        const vugi_joint *c = r->joint + i;
        if (c->kind == VUGI_JOINT_THROAT && c->arc == arc && (c->from == spot || c->to == spot)
            && c->path.length > 0.0)
            return (uint32_t)i;
    }
    return VUGI_NONE;
}

static vugi_perch perch_of(const vugi_network *n, uint32_t a)
{
    const vugi_graph *g = n->r.g;
    const vugi_resistance *r = &n->resistance;
    const vugi_node *roof = g->node + g->arc[a].from;
    vugi_perch p = {VUGI_NONE, VUGI_NONE, VUGI_NONE};
    int32_t chamber = r->spot[r->foot[a]].chamber;
    if (roof->downs != 1 || roof->ups < 2 || chamber < 0)
        return p;
    p.slot = g->link[roof->link];
    const vugi_node *floor = g->node + g->arc[p.slot].from;
    for (uint32_t k = floor->link; k < floor->link + floor->downs && floor->downs > 1; k++)
        if (r->spot[r->crown[g->link[k]]].chamber == chamber)
            p.base = g->link[k];
    if (p.base != VUGI_NONE)
        p.joint = throat_at(r, p.slot, r->foot[a]);
    return p;
}

void vugi_perch_find(vugi_network *n)
{
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        n->perch[a] = perch_of(n, a);
    n->r.links.hangs = n->probe.hangs = n->hung;
}

bool vugi_perch_open(const vugi_network *n, uint32_t a)
{
    const vugi_graph *g = n->r.g;
    const vugi_perch *p = n->perch + a;
    return vugi_is_perch(n, a) && n->r.level[p->base] >= g->arc[p->base].hi
        && n->r.level[p->slot] < g->arc[p->slot].hi - n->r.tolerance;
}

bool vugi_perch_wet(const vugi_network *n, uint32_t a)
{
    const vugi_graph *g = n->r.g;
    return vugi_node_flooded(g, n->r.level, g->arc[n->perch[a].slot].from);
}

static bool far_air_closed(const vugi_network *n, uint32_t a)
{
    uint32_t air = n->r.links.air[n->perch[a].slot];
    return air != VUGI_NONE && !n->r.links.vented[air];
}

void vugi_perch_let_down(vugi_network *n)
{
    const vugi_graph *g = n->r.g;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        bool stands = vugi_is_perch(n, a) && n->r.level[a] > g->arc[a].lo && vugi_perch_open(n, a);
        uint32_t slot = n->perch[a].slot;
        if (!stands || !vugi_perch_wet(n, a) || !far_air_closed(n, a)
            || n->volume[slot] + n->volume[a] >= g->arc[slot].volume)
            continue;
        n->volume[slot] += n->volume[a];
        n->volume[a] = 0.0;
        n->r.level[a] = g->arc[a].lo;
        n->r.level[slot] = vugi_arc_level(g, slot, n->volume[slot]);
        vugi_links_find(n->r.scene, n->r.level, n->r.task->air_open, &n->r.links);
    }
}

uint32_t vugi_perch_over(const vugi_network *n, uint32_t arc)
{
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        if (vugi_is_perch(n, a) && n->hung[a]
            && ((n->perch[a].base == arc && n->end[a] == VUGI_END_TANK)
                || (n->perch[a].slot == arc && far_air_closed(n, a))))
            return a;
    return arc;
}

double vugi_perch_low(const vugi_network *n, uint32_t a)
{
    assert(vugi_is_perch(n, a));
    const vugi_arc *slot = n->r.g->arc + n->perch[a].slot;
    return fmax(0.5 * (slot->lo + slot->hi), n->r.level[n->perch[a].slot]);
}

double vugi_perch_head(const vugi_network *n, uint32_t a)
{
    const vugi_arc *slot = n->r.g->arc + n->perch[a].slot;
    bool stands = n->hung[a] && n->r.level[a] > n->r.g->arc[a].lo;
    return vugi_is_perch(n, a) && stands ? n->r.level[a] - slot->lo : 0.0;
}

double vugi_perch_lag(const vugi_network *n)
{
    double lag = 0.0;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        if (vugi_perch_head(n, a) > 0.0 && vugi_perch_wet(n, a))
            lag = fmax(lag, n->r.level[a] - n->r.level[n->perch[a].slot]);
    return lag;
}
