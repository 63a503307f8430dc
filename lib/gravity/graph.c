/* SPDX-License-Identifier: MIT
 * The gravity graph as it is used: arcs, nodes, and tables of what lies below each height. */
#include "gravity/graph.h"

#include "base/angle.h"
#include "gravity/reduce.h"

#include "column/pose.h"

#include <assert.h>
#include <math.h>

/* Outline of a section from the edges counted along four directions (Cauchy and Crofton): the mean
 * over the directions of (edges times distance of the lines), times pi / 2. */
static double outline_length(int64_t straight, int64_t diagonal, double h)
{
    double length = VUGI_PI / 8.0 * h
        * ((double)straight + (double)diagonal * 0.70710678118654752440);
    return length > 0.0 ? length : 0.0;
}

static bool alloc_graph(const vugi_allocator *mem, const vugi_sweep *s, const vugi_reduced *r,
    vugi_graph *g)
{
    size_t arcs = 0, nodes = 0, links = 0;
    for (size_t i = 0; i < r->arc_count; i++)
        arcs += r->arc[i].into == i;
    for (size_t i = 0; i < r->node_count; i++) {
        nodes += r->node[i].into == i && r->node[i].ups + r->node[i].downs > 0;
        links += r->node[i].ups + r->node[i].downs;
    }
    g->arc = vugi_calloc(mem, arcs, sizeof *g->arc);
    g->node = vugi_calloc(mem, nodes, sizeof *g->node);
    g->link = vugi_alloc(mem, links, sizeof *g->link);
    g->sill = vugi_alloc(mem, links, sizeof *g->sill);
    g->knot = vugi_alloc(mem, s->change_count + 2 * arcs, sizeof *g->knot);
    g->arc_of_raw = vugi_alloc(mem, r->arc_count, sizeof *g->arc_of_raw);
    return g->arc && g->node && g->link && g->sill && g->knot && g->arc_of_raw;
}

/* Numbers what is left, arcs and nodes in the order in which the sweep met them. */
static void number(vugi_graph *g, const vugi_reduced *r, uint32_t *arc_number,
    uint32_t *node_number)
{
    for (size_t i = 0; i < r->node_count; i++) {
        const vugi_work_node *n = r->node + i;
        if (n->into != i || n->ups + n->downs == 0)
            continue;
        node_number[i] = (uint32_t)g->node_count;
        g->node[g->node_count++] = (vugi_node){n->z, n->span, 0, n->downs, n->ups};
    }
    for (size_t i = 0; i < r->arc_count; i++) {
        const vugi_work_arc *a = r->arc + i;
        if (a->into != i)
            continue;
        arc_number[i] = (uint32_t)g->arc_count;
        uint32_t from = node_number[a->from], to = node_number[a->to];
        g->arc[g->arc_count++] = (vugi_arc){.lo = g->node[from].z,
            .hi = g->node[to].z,
            .from = from,
            .to = to};
    }
}

static void link_arcs(vugi_graph *g)
{
    uint32_t at = 0;
    for (size_t i = 0; i < g->node_count; i++) {
        g->node[i].link = at;
        at += g->node[i].downs + g->node[i].ups;
        g->node[i].downs = g->node[i].ups = 0;
    }
    g->link_count = at;
    for (uint32_t i = 0; i < at; i++)
        g->sill[i] = VUGI_NONE;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        vugi_node *n = g->node + g->arc[a].to;
        g->link[n->link + n->downs++] = a;
    }
    for (uint32_t a = 0; a < g->arc_count; a++) {
        vugi_node *n = g->node + g->arc[a].from;
        g->link[n->link + n->downs + n->ups++] = a;
    }
}

/* The better of two spans: the deeper one into an arc below, the higher one into an arc above. */
static uint32_t better(const vugi_graph *g, bool below, uint32_t a, uint32_t b)
{
    const vugi_columns *c = g->columns;
    if (a == VUGI_NONE || b == VUGI_NONE)
        return a == VUGI_NONE ? b : a;
    return (below ? c->lo[b] < c->lo[a] : c->hi[b] > c->hi[a]) ? b : a;
}

static void place_sills(vugi_graph *g, const vugi_sweep *s, const vugi_reduced *r,
    const uint32_t *node_number)
{
    for (size_t i = 0; i < s->sill_count; i++) {
        uint32_t arc = g->arc_of_raw[s->sill[i].arc];
        uint32_t raw = vugi_reduced_node(r, s->sill[i].node);
        if (arc == VUGI_NONE || r->node[raw].ups + r->node[raw].downs == 0)
            continue;
        const vugi_node *n = g->node + node_number[raw];
        for (uint32_t k = n->link; k < n->link + n->downs + n->ups; k++)
            if (g->link[k] == arc)
                g->sill[k] = better(g, k < n->link + n->downs, g->sill[k], s->sill[i].span);
    }
}

/* Sums of the section so far, while its knots are written. */
typedef struct running {
    int64_t pixels, straight, diagonal;
} running;

static void add_knot(vugi_graph *g, vugi_arc *a, double z, double area, double outline)
{
    vugi_knot *k = g->knot + a->knot;
    if (a->knots > 0 && k[a->knots - 1].z >= z) {
        k[a->knots - 1].area = area;
        k[a->knots - 1].outline = outline;
        return;
    }
    double below = 0.0;
    if (a->knots > 0) {
        const vugi_knot *last = k + a->knots - 1;
        below = last->volume + last->area * (z - last->z);
    }
    k[a->knots++] = (vugi_knot){z, below, area, outline};
}

static void fill_knots(vugi_graph *g, const vugi_sweep *s, running *sum, double unit)
{
    double h = g->columns->h;
    for (size_t i = 0; i < s->change_count; i++) {
        uint32_t arc = g->arc_of_raw[s->change[i].arc];
        if (arc != VUGI_NONE)
            g->arc[arc].knots++;
    }
    size_t at = 0;
    for (size_t i = 0; i < g->arc_count; i++) {
        g->arc[i].knot = (uint32_t)at;
        at += g->arc[i].knots + 2;
        g->arc[i].knots = 0;
        add_knot(g, g->arc + i, g->arc[i].lo, 0.0, 0.0);
    }
    g->knot_count = at;
    for (size_t i = 0; i < s->change_count; i++) {
        const vugi_change *c = s->change + i;
        uint32_t arc = g->arc_of_raw[c->arc];
        if (arc == VUGI_NONE)
            continue;
        vugi_arc *a = g->arc + arc;
        running *u = sum + arc;
        u->pixels += c->pixels;
        u->straight += c->straight;
        u->diagonal += c->diagonal;
        double z = fmax(a->lo, fmin(a->hi, c->z));
        add_knot(g, a, z, u->pixels > 0 ? (double)u->pixels * unit : 0.0,
            outline_length(u->straight, u->diagonal, h));
    }
    for (size_t i = 0; i < g->arc_count; i++) {
        vugi_arc *a = g->arc + i;
        add_knot(g, a, a->hi, 0.0, 0.0);
        a->volume = g->knot[a->knot + a->knots - 1].volume;
        g->capacity += a->volume;
    }
}

static double volume_of(const vugi_sweep *s)
{
    double volume = 0.0, h = s->columns->h;
    for (size_t i = 0; i < s->arc_count; i++)
        volume += s->arc[i].volume;
    return volume * h * h;
}

#ifndef NDEBUG
/* Arcs lead up, and so do their knots and the volumes below those; the volumes add up. */
static bool is_sound(const vugi_graph *g)
{
    double sum = 0.0;
    for (size_t i = 0; i < g->arc_count; i++) {
        const vugi_arc *a = g->arc + i;
        const vugi_knot *k = g->knot + a->knot;
        if (a->lo > a->hi || a->from >= g->node_count || a->to >= g->node_count || a->knots < 1
            || a->knot + a->knots > g->knot_count)
            return false;
        for (uint32_t j = 1; j < a->knots; j++)
            if (!(k[j].z > k[j - 1].z) || k[j].volume < k[j - 1].volume)
                return false;
        sum += a->volume;
    }
    for (size_t i = 0; i < g->link_count; i++)
        if (g->link[i] >= g->arc_count)
            return false;
    return fabs(sum - g->capacity) <= 1e-9 * g->capacity;
}
#endif

vug_status vugi_graph_build(vug_context *ctx, const vugi_allocator *mem,
    const vugi_columns *columns, int32_t body, double volume, const uint32_t *gate,
    vugi_query *query, size_t query_count, vugi_graph *g)
{
    *g = (vugi_graph){.columns = columns};
    vugi_reduced r = {.arc = NULL};
    uint32_t *numbers = NULL;
    running *sum = NULL;
    vug_status status = vugi_sweep_run(ctx, mem, columns, body, gate, query, query_count,
        &g->sweep);
    if (status)
        return status;
    const vugi_sweep *s = &g->sweep;
    if (s->arc_count == 0) {
        status = vugi_fail(ctx, VUG_ERR_MESH,
            "no column meets cavity %d at a spacing of %g mm: it is "
            "too small for it",
            body, columns->h);
        goto done;
    }
    if ((status = vugi_reduce(ctx, mem, s, &r)))
        goto done;
    numbers = vugi_alloc(mem, s->arc_count + s->node_count, sizeof *numbers);
    if (!numbers || !alloc_graph(mem, s, &r, g)) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    number(g, &r, numbers, numbers + s->arc_count);
    for (size_t i = 0; i < s->arc_count; i++) {
        uint32_t arc = vugi_reduced_arc(&r, (uint32_t)i);
        g->arc_of_raw[i] = arc == VUGI_NONE ? VUGI_NONE : numbers[arc];
    }
    link_arcs(g);
    place_sills(g, s, &r, numbers + s->arc_count);
    if (!(sum = vugi_calloc(mem, g->arc_count, sizeof *sum))) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    double own = volume_of(s), h = columns->h;
    fill_knots(g, s, sum, h * h * (volume > 0.0 && own > 0.0 ? volume / own : 1.0));
    for (size_t i = 0; i < query_count; i++) {
        if (query[i].arc == VUGI_NONE)
            continue;
        vugi_reduced_pass(&r, query[i].arc, &query[i].top, &query[i].lip);
        query[i].arc = g->arc_of_raw[query[i].arc];
    }
    vugi_free(mem, g->sweep.change);
    g->sweep.change = NULL;
    assert(is_sound(g));
done:
    vugi_reduced_free(mem, &r);
    vugi_free(mem, numbers);
    vugi_free(mem, sum);
    if (status)
        vugi_graph_free(mem, g);
    return status;
}

void vugi_graph_free(const vugi_allocator *mem, vugi_graph *g)
{
    vugi_sweep_free(mem, &g->sweep);
    vugi_free(mem, g->arc_of_raw);
    vugi_free(mem, g->piece);
    vugi_free(mem, g->arc);
    vugi_free(mem, g->node);
    vugi_free(mem, g->link);
    vugi_free(mem, g->sill);
    vugi_free(mem, g->knot);
    *g = (vugi_graph){.columns = NULL};
}

bool vugi_node_flooded(const vugi_graph *g, const double *level, uint32_t node)
{
    assert(node < g->node_count);
    const vugi_node *n = g->node + node;
    for (uint32_t k = n->link; k < n->link + n->downs; k++)
        if (level[g->link[k]] < g->arc[g->link[k]].hi)
            return false;
    return n->downs > 0;
}

uint32_t vugi_arc_piece(const vugi_graph *g, uint32_t arc, double z, bool under)
{
    uint32_t best = arc;
    double least = INFINITY;
    for (uint32_t a = arc; g->piece && a != VUGI_NONE; a = g->piece[a]) {
        const vugi_arc *p = g->arc + a;
        double off = fmax(0.0, fmax(p->lo - z, z - p->hi));
        bool inner = under ? p->lo < z : p->hi > z;
        if (off < least || (off == least && inner)) {
            best = a;
            least = off;
        }
    }
    return best;
}

uint32_t vugi_graph_arc(const vugi_graph *g, uint32_t raw, double z, bool under)
{
    uint32_t arc = raw == VUGI_NONE ? VUGI_NONE : g->arc_of_raw[raw];
    return arc == VUGI_NONE ? VUGI_NONE : vugi_arc_piece(g, arc, z, under);
}

/* The last knot of an arc at or below z; the first one if z is lower still. */
static const vugi_knot *knot_at(const vugi_graph *g, uint32_t arc, double z)
{
    assert(arc < g->arc_count);
    assert(g->arc[arc].knots >= 2);
    const vugi_knot *k = g->knot + g->arc[arc].knot;
    size_t lo = 0, hi = g->arc[arc].knots;
    while (hi - lo > 1) {
        size_t mid = lo + (hi - lo) / 2;
        if (k[mid].z <= z)
            lo = mid;
        else
            hi = mid;
    }
    return k + lo;
}

double vugi_arc_volume(const vugi_graph *g, uint32_t arc, double z)
{
    assert(arc < g->arc_count);
    const vugi_arc *a = g->arc + arc;
    if (!(z > a->lo))
        return 0.0;
    if (z >= a->hi)
        return a->volume;
    const vugi_knot *k = knot_at(g, arc, z);
    return k->volume + k->area * (z - k->z);
}

double vugi_arc_area(const vugi_graph *g, uint32_t arc, double z)
{
    return knot_at(g, arc, z)->area;
}

double vugi_arc_level(const vugi_graph *g, uint32_t arc, double volume)
{
    assert(arc < g->arc_count);
    assert(!isnan(volume));
    const vugi_arc *a = g->arc + arc;
    if (!(volume > 0.0))
        return a->lo;
    if (volume >= a->volume)
        return a->hi;
    const vugi_knot *k = g->knot + a->knot;
    size_t lo = 0, hi = a->knots - 1;
    while (hi - lo > 1) {
        size_t mid = lo + (hi - lo) / 2;
        if (k[mid].volume <= volume)
            lo = mid;
        else
            hi = mid;
    }
    double z = k[lo].area > 0.0 ? k[lo].z + (volume - k[lo].volume) / k[lo].area : k[lo].z;
    return fmin(z, k[lo + 1].z);
}

uint32_t vugi_arc_at_floor(const vugi_graph *g, size_t span)
{
    assert(span < g->columns->count);
    return vugi_graph_arc(g, g->sweep.floor_arc[span], g->columns->lo[span], false);
}

uint32_t vugi_arc_at_ceiling(const vugi_graph *g, size_t span)
{
    assert(span < g->columns->count);
    return vugi_graph_arc(g, g->sweep.ceiling_arc[span], g->columns->hi[span], true);
}

void vugi_span_point(const vugi_graph *g, uint32_t span, double z, double part[3])
{
    assert(span < g->columns->count);
    const vugi_columns *c = g->columns;
    uint32_t column = g->sweep.column[span];
    double pose[3] = {c->x0 + c->h * (double)(column % (uint32_t)c->nx),
        c->y0 + c->h * (double)(column / (uint32_t)c->nx), z};
    vugi_to_part(c->basis, pose, part);
}
