/* SPDX-License-Identifier: MIT
 * Which arcs share their air, and which their liquid. */
#include "gravity/links.h"

#include "base/disjoint_set.h"
#include "gravity/scene.h"

#include <assert.h>

bool vugi_links_alloc(const vugi_allocator *mem, const vugi_graph *g, vugi_links *l)
{
    size_t n = g->arc_count;
    *l = (vugi_links){
        .air = vugi_alloc(mem, n, sizeof *l->air),
        .pool = vugi_alloc(mem, n, sizeof *l->pool),
        .vented = vugi_alloc(mem, n, sizeof *l->vented),
        .parent = vugi_alloc(mem, n, sizeof *l->parent),
    };
    return l->air && l->pool && l->vented && l->parent;
}

void vugi_links_free(const vugi_allocator *mem, vugi_links *l)
{
    vugi_free(mem, l->air);
    vugi_free(mem, l->pool);
    vugi_free(mem, l->vented);
    vugi_free(mem, l->parent);
    *l = (vugi_links){.air = NULL};
}

/* Air passes a node while no liquid stands over it, but for that of arcs that hang there by themselves. */
static void join_air(const vugi_graph *g, const double *level, const vugi_node *n, bool flooded,
    const bool *hangs, uint32_t *parent)
{
    uint32_t first = VUGI_NONE, end = n->link + n->downs + n->ups;
    if (flooded)
        return;
    for (uint32_t k = n->link + n->downs; k < end; k++) {
        uint32_t a = g->link[k];
        if (level[a] > g->arc[a].lo && !(hangs && hangs[a]))
            return;
    }
    for (uint32_t k = n->link; k < end; k++) {
        uint32_t a = g->link[k];
        bool stands = k >= n->link + n->downs && level[a] > g->arc[a].lo;
        if (level[a] >= g->arc[a].hi || stands)
            continue;
        if (first == VUGI_NONE)
            first = a;
        else
            vugi_sets_unite(parent, first, a);
    }
}

static void join_liquid(const vugi_graph *g, const vugi_node *n, uint32_t *parent)
{
    for (uint32_t k = n->link + 1; k < n->link + n->downs + n->ups; k++)
        vugi_sets_unite(parent, g->link[n->link], g->link[k]);
}

/* Numbers the roots of those arcs that count, in order. */
static uint32_t number(const vugi_graph *g, uint32_t *parent, uint32_t *of)
{
    uint32_t count = 0;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (of[a] == VUGI_NONE)
            continue;
        uint32_t root = vugi_sets_find(parent, a);
        of[a] = root == a ? count++ : of[root];
    }
    return count;
}

bool vugi_port_free(const vugi_graph *g, const double *level, const vugi_port *p)
{
    assert(p->arc < g->arc_count);
    return level[p->arc] < p->z || level[p->arc] <= g->arc[p->arc].lo;
}

static void find_vented(const vugi_scene *s, const double *level, const bool *open, vugi_links *l)
{
    for (uint32_t i = 0; i < l->air_count; i++)
        l->vented[i] = false;
    for (size_t i = 0; i < s->vent_count; i++) {
        const vugi_port *p = s->vent + i;
        uint32_t air = l->air[p->arc];
        if (open[p->mouth] && air != VUGI_NONE && vugi_port_free(&s->graph, level, p))
            l->vented[air] = true;
    }
}

bool vugi_links_open_to(const vugi_scene *s, const double *level, const vugi_links *l,
    uint32_t mouth, uint32_t air)
{
    assert(mouth < s->mouth_count);
    for (size_t i = 0; i < s->vent_count; i++) {
        const vugi_port *p = s->vent + i;
        if (p->mouth == mouth && l->air[p->arc] == air && vugi_port_free(&s->graph, level, p))
            return true;
    }
    return false;
}

void vugi_links_find(const vugi_scene *s, const double *level, const bool *open, vugi_links *l)
{
    const vugi_graph *g = &s->graph;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        l->parent[a] = a;
        l->air[a] = level[a] < g->arc[a].hi ? 0 : VUGI_NONE;
    }
    for (uint32_t n = 0; n < g->node_count; n++)
        join_air(g, level, g->node + n, vugi_node_flooded(g, level, n), l->hangs, l->parent);
    for (size_t i = 0; i < s->door_count; i++) {
        uint32_t a = vugi_door_air(g, level, s->door + i, 0);
        uint32_t b = vugi_door_air(g, level, s->door + i, 1);
        if (a != VUGI_NONE && b != VUGI_NONE)
            vugi_sets_unite(l->parent, a, b);
    }
    l->air_count = number(g, l->parent, l->air);
    find_vented(s, level, open, l);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        l->parent[a] = a;
        bool wet = level[a] > g->arc[a].lo || vugi_node_flooded(g, level, g->arc[a].from);
        l->pool[a] = wet ? 0 : VUGI_NONE;
    }
    for (uint32_t n = 0; n < g->node_count; n++)
        if (vugi_node_flooded(g, level, n))
            join_liquid(g, g->node + n, l->parent);
    for (size_t i = 0; i < s->door_count; i++)
        if (vugi_door_wet(g, level, s->door + i))
            vugi_sets_unite(l->parent, s->door[i].arc[0], s->door[i].arc[1]);
    l->pool_count = number(g, l->parent, l->pool);
}

uint32_t vugi_links_air_over(const vugi_graph *g, const double *level, const vugi_links *l,
    uint32_t arc)
{
    assert(arc < g->arc_count);
    const vugi_node *to = g->node + g->arc[arc].to;
    if (level[arc] < g->arc[arc].hi)
        return l->air[arc];
    for (uint32_t k = to->link; k < to->link + to->downs; k++)
        if (level[g->link[k]] < g->arc[g->link[k]].hi)
            return l->air[g->link[k]];
    return VUGI_NONE;
}

double vugi_levels_volume(const vugi_graph *g, const double *level)
{
    double volume = 0.0;
    for (uint32_t a = 0; a < g->arc_count; a++)
        volume += vugi_arc_volume(g, a, level[a]);
    return volume;
}
