/* SPDX-License-Identifier: MIT
 * Arcs cut in two below throats. */
#include "gravity/cut.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* A throat's section is at most this part of the widest on either side of it; it ends where the section is
 * wider than the other part. */
static const double narrow = 0.5, end_wide = 2.0;

double vugi_arc_throat_end(const vugi_graph *g, uint32_t arc, double z)
{
    assert(arc < g->arc_count);
    const vugi_arc *a = g->arc + arc;
    const vugi_knot *k = g->knot + a->knot;
    double area = vugi_arc_area(g, arc, z), below = 0.0, above = 0.0, end = NAN;
    if (!(z > a->lo) || !(z < a->hi) || !(area > 0.0))
        return NAN;
    for (uint32_t i = 0; i + 1 < a->knots; i++) {
        if (k[i].z <= z) {
            below = fmax(below, k[i].area);
            end = k[i].area > end_wide * area ? k[i + 1].z : end;
        } else {
            above = fmax(above, k[i].area);
        }
    }
    bool neck = area <= narrow * below && area <= narrow * above;
    return neck && end > a->lo && end <= z ? end : NAN;
}

static bool grow(const vugi_allocator *mem, void *list, size_t count, size_t size)
{
    size_t room = 0;
    return vugi_reserve(mem, list, &room, count, size);
}

static bool make_room(const vugi_allocator *mem, vugi_graph *g, size_t knots)
{
    return grow(mem, &g->arc, g->arc_count + 1, sizeof *g->arc)
        && grow(mem, &g->piece, g->arc_count + 1, sizeof *g->piece)
        && grow(mem, &g->node, g->node_count + 1, sizeof *g->node)
        && grow(mem, &g->link, g->link_count + 2, sizeof *g->link)
        && grow(mem, &g->sill, g->link_count + 2, sizeof *g->sill)
        && grow(mem, &g->knot, g->knot_count + knots, sizeof *g->knot);
}

static void add_node(vugi_graph *g, uint32_t lower, uint32_t upper, double z, uint32_t span)
{
    uint32_t at = (uint32_t)g->link_count;
    g->node[g->node_count++] = (vugi_node){.z = z, .span = span, .link = at, .downs = 1, .ups = 1};
    g->link[at] = lower;
    g->link[at + 1] = upper;
    g->sill[at] = g->sill[at + 1] = VUGI_NONE;
    g->link_count += 2;
}

bool vugi_graph_cut(const vugi_allocator *mem, vugi_graph *g, uint32_t arc, double z, uint32_t span)
{
    assert(arc < g->arc_count);
    assert(z > g->arc[arc].lo && z < g->arc[arc].hi);
    uint32_t upper = (uint32_t)g->arc_count, keep = 0;
    double volume = vugi_arc_volume(g, arc, z), whole = g->arc[arc].volume;
    bool first = !g->piece;
    if (!make_room(mem, g, g->arc[arc].knots + 1))
        return false;
    for (uint32_t a = 0; first && a < g->arc_count; a++)
        g->piece[a] = VUGI_NONE;
    vugi_arc *a = g->arc + arc, *b = g->arc + upper;
    vugi_knot *k = g->knot + a->knot, *up = g->knot + g->knot_count;
    while (keep + 1 < a->knots && k[keep + 1].z <= z)
        keep++;
    uint32_t n = 0;
    up[n++] = (vugi_knot){z, 0.0, k[keep].area, k[keep].outline};
    for (uint32_t i = keep + 1; i < a->knots; i++)
        up[n++] = (vugi_knot){k[i].z, k[i].volume - volume, k[i].area, k[i].outline};
    *b = (vugi_arc){.lo = z,
        .hi = a->hi,
        .volume = whole - volume,
        .from = (uint32_t)g->node_count,
        .to = a->to,
        .knot = (uint32_t)g->knot_count,
        .knots = n};
    g->knot_count += n;
    uint32_t last = k[keep].z < z ? keep + 1 : keep;
    k[last] = (vugi_knot){z, volume, 0.0, 0.0};
    a->knots = last + 1;
    a->hi = z;
    a->volume = volume;
    const vugi_node *to = g->node + a->to;
    for (uint32_t i = to->link; i < to->link + to->downs; i++)
        if (g->link[i] == arc)
            g->link[i] = upper;
    a->to = (uint32_t)g->node_count;
    add_node(g, arc, upper, z, span);
    g->arc_count++;
    g->piece[upper] = g->piece[arc];
    g->piece[arc] = upper;
    return true;
}

/* Adds the links of a node on one side of it: below or above. */
static void copy_links(vugi_graph *g, const vugi_node *n, bool below, uint32_t *at)
{
    uint32_t first = below ? n->link : n->link + n->downs, count = below ? n->downs : n->ups;
    for (uint32_t k = first; k < first + count; k++, (*at)++) {
        g->link[*at] = g->link[k];
        g->sill[*at] = g->sill[k];
    }
}

bool vugi_graph_join(const vugi_allocator *mem, vugi_graph *g, uint32_t a, uint32_t b)
{
    assert(a < g->node_count && b < g->node_count && a != b);
    const vugi_node p = g->node[a], q = g->node[b];
    uint32_t at = (uint32_t)g->link_count, count = p.downs + p.ups + q.downs + q.ups;
    if (!grow(mem, &g->link, at + count, sizeof *g->link)
        || !grow(mem, &g->sill, at + count, sizeof *g->sill))
        return false;
    g->node[a] = (vugi_node){p.z, p.span, at, p.downs + q.downs, p.ups + q.ups};
    g->node[b].downs = g->node[b].ups = 0;
    for (int above = 0; above < 2; above++) {
        copy_links(g, &p, !above, &at);
        copy_links(g, &q, !above, &at);
    }
    for (uint32_t k = q.link; k < q.link + q.downs; k++)
        g->arc[g->link[k]].to = a;
    for (uint32_t k = q.link + q.downs; k < q.link + q.downs + q.ups; k++)
        g->arc[g->link[k]].from = a;
    g->link_count = at;
    return true;
}

bool vugi_arc_is_cut(const vugi_graph *g, uint32_t arc)
{
    assert(arc < g->arc_count);
    const vugi_node *from = g->node + g->arc[arc].from;
    return g->piece && from->downs == 1 && from->ups == 1;
}
