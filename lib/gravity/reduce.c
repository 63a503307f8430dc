/* SPDX-License-Identifier: MIT
 * Three reductions keep every volume: an arc of no height becomes a point; an end that is no more
 * than an effect of the sampling becomes part of its neighbour; a node with one arc below and one
 * above is no node. */
#include "gravity/reduce.h"

#include "base/sort.h"

#include <math.h>
#include <stdlib.h>

enum { ARCS_MANY = 3000 }; /* so many are followed without ado */

uint32_t vugi_reduced_arc(const vugi_reduced *r, uint32_t arc)
{
    while (arc != VUGI_NONE && r->arc[arc].into != arc) {
        vugi_work_arc *a = r->arc + arc;
        const uint32_t next = a->into;
        if (next != VUGI_NONE && r->arc[next].into != next) {
            a->top = fmin(a->top, r->arc[next].top);
            a->lip = fmax(a->lip, r->arc[next].lip);
            a->into = r->arc[next].into;
        }
        arc = next;
    }
    return arc;
}

void vugi_reduced_pass(const vugi_reduced *r, uint32_t arc, double *top, double *lip)
{
    *top = INFINITY;
    *lip = -INFINITY;
    for (; arc != VUGI_NONE && r->arc[arc].into != arc; arc = r->arc[arc].into) {
        *top = fmin(*top, r->arc[arc].top);
        *lip = fmax(*lip, r->arc[arc].lip);
    }
}

uint32_t vugi_reduced_node(const vugi_reduced *r, uint32_t node)
{
    while (r->node[node].into != node) {
        r->node[node].into = r->node[r->node[node].into].into;
        node = r->node[node].into;
    }
    return node;
}

static void link_up(vugi_reduced *r, uint32_t node, uint32_t arc)
{
    r->arc[arc].from = node;
    r->arc[arc].next_up = r->node[node].up;
    r->node[node].up = arc;
    r->node[node].ups++;
}

static void link_down(vugi_reduced *r, uint32_t node, uint32_t arc)
{
    r->arc[arc].to = node;
    r->arc[arc].next_down = r->node[node].down;
    r->node[node].down = arc;
    r->node[node].downs++;
}

static void unlink_up(vugi_reduced *r, uint32_t arc)
{
    vugi_work_node *n = r->node + r->arc[arc].from;
    uint32_t *at = &n->up;
    while (*at != arc)
        at = &r->arc[*at].next_up;
    *at = r->arc[arc].next_up;
    n->ups--;
}

static void unlink_down(vugi_reduced *r, uint32_t arc)
{
    vugi_work_node *n = r->node + r->arc[arc].to;
    uint32_t *at = &n->down;
    while (*at != arc)
        at = &r->arc[*at].next_down;
    *at = r->arc[arc].next_down;
    n->downs--;
}

/* An arc of no height: its upper node becomes part of its lower one. */
static void contract(vugi_reduced *r, uint32_t arc)
{
    uint32_t u = r->arc[arc].from, v = r->arc[arc].to;
    unlink_up(r, arc);
    unlink_down(r, arc);
    if (u != v) {
        uint32_t next;
        for (uint32_t a = r->node[v].up; a != VUGI_NONE; a = next) {
            next = r->arc[a].next_up;
            link_up(r, u, a);
        }
        for (uint32_t a = r->node[v].down; a != VUGI_NONE; a = next) {
            next = r->arc[a].next_down;
            link_down(r, u, a);
        }
        r->node[v].into = u;
        r->node[v].ups = r->node[v].downs = 0;
    }
    uint32_t heir = r->node[u].down != VUGI_NONE ? r->node[u].down : r->node[u].up;
    r->arc[arc].into = heir;
    if (heir != VUGI_NONE)
        r->arc[heir].volume += r->arc[arc].volume;
}

/* A node with one arc below and one above: the upper arc becomes part of the lower one. */
static void fuse(vugi_reduced *r, uint32_t node)
{
    if (r->node[node].ups != 1 || r->node[node].downs != 1)
        return;
    uint32_t below = r->node[node].down, above = r->node[node].up, top = r->arc[above].to;
    unlink_down(r, below);
    unlink_up(r, above);
    unlink_down(r, above);
    r->arc[below].hi = r->arc[above].hi;
    r->arc[below].volume += r->arc[above].volume;
    r->arc[above].into = below;
    link_down(r, top, below);
}

/* An arc that ends in a dome or a basin of no more than a few columns, or is a twin of another. */
typedef struct limits {
    double tiny, small, height; /* pixels times mm, and mm */
    double step;
} limits;

static bool is_small(const vugi_reduced *r, const limits *l, uint32_t arc)
{
    const vugi_work_arc *a = r->arc + arc;
    return a->volume < l->tiny
        || (a->volume < l->small && (double)(a->hi - a->lo) * l->step < l->height);
}

/* The arc beside this one that shall take it in: beside a dome that which reaches highest, beside a
 * basin that which reaches deepest; or a twin. VUGI_NONE: it is to stay. */
static uint32_t neighbour_for(const vugi_reduced *r, uint32_t arc)
{
    const vugi_work_arc *a = r->arc + arc, *b;
    const vugi_work_node *u = r->node + a->from, *v = r->node + a->to;
    bool dome = v->ups == 0 && v->downs == 1, basin = u->downs == 0 && u->ups == 1;
    uint32_t best = VUGI_NONE;
    for (uint32_t i = u->up; i != VUGI_NONE; i = r->arc[i].next_up) {
        b = r->arc + i;
        if (i != arc && (dome || b->to == a->to)
            && (best == VUGI_NONE || b->hi > r->arc[best].hi
                || (b->hi == r->arc[best].hi && b->volume > r->arc[best].volume)))
            best = i;
    }
    if (best != VUGI_NONE || !basin)
        return best;
    for (uint32_t i = v->down; i != VUGI_NONE; i = r->arc[i].next_down) {
        b = r->arc + i;
        if (i != arc
            && (best == VUGI_NONE || b->lo < r->arc[best].lo
                || (b->lo == r->arc[best].lo && b->volume > r->arc[best].volume)))
            best = i;
    }
    return best;
}

/* Takes in a small arc. A dome or basin that takes in a taller one grows to its height; but what is in it still comes to
 * the taller one over the sill between them. */
static void take_in(vugi_reduced *r, uint32_t arc, uint32_t heir)
{
    vugi_work_arc *a = r->arc + arc, *b = r->arc + heir;
    vugi_work_node *top = r->node + b->to, *bottom = r->node + b->from;
    uint32_t from = a->from, to = a->to;
    if (b->to != to)
        a->top = r->node[from].z;
    if (b->from != from)
        a->lip = r->node[to].z;
    if (a->hi > b->hi && top->ups == 0 && top->downs == 1) {
        b->hi = top->key = a->hi;
        top->span = r->node[to].span;
        top->z = r->node[to].z;
    }
    if (a->lo < b->lo && bottom->downs == 0 && bottom->ups == 1) {
        b->lo = bottom->key = a->lo;
        bottom->span = r->node[from].span;
        bottom->z = r->node[from].z;
    }
    unlink_up(r, arc);
    unlink_down(r, arc);
    b->volume += a->volume;
    a->into = heir;
    fuse(r, from);
    if (to != from)
        fuse(r, to);
}

typedef struct candidate {
    double volume;
    uint32_t arc;
} candidate;

static int by_volume(const void *a, const void *b, const void *user)
{
    const candidate *x = a, *y = b;
    (void)user;
    if (x->volume != y->volume)
        return x->volume < y->volume ? -1 : 1;
    return x->arc < y->arc ? -1 : x->arc > y->arc;
}

/* One pass over the small arcs, least first. Returns how many went. */
static size_t prune(const vugi_allocator *mem, vugi_reduced *r, const limits *l, candidate *list,
    bool *fits)
{
    size_t count = 0, gone = 0;
    for (size_t i = 0; i < r->arc_count; i++)
        if (r->arc[i].into == i && is_small(r, l, (uint32_t)i)
            && neighbour_for(r, (uint32_t)i) != VUGI_NONE)
            list[count++] = (candidate){r->arc[i].volume, (uint32_t)i};
    *fits = vugi_sort(mem, list, count, sizeof *list, by_volume, NULL);
    for (size_t i = 0; i < count && *fits; i++) {
        uint32_t arc = list[i].arc;
        if (r->arc[arc].into != arc || !is_small(r, l, arc))
            continue;
        uint32_t heir = neighbour_for(r, arc);
        if (heir != VUGI_NONE) {
            take_in(r, arc, heir);
            gone++;
        }
    }
    return gone;
}

static vug_status load(vug_context *ctx, const vugi_allocator *mem, const vugi_sweep *s,
    vugi_reduced *r)
{
    *r = (vugi_reduced){.arc_count = s->arc_count, .node_count = s->node_count};
    r->arc = vugi_alloc(mem, s->arc_count, sizeof *r->arc);
    r->node = vugi_alloc(mem, s->node_count, sizeof *r->node);
    if (!r->arc || !r->node) {
        vugi_reduced_free(mem, r);
        return vugi_fail_memory(ctx);
    }
    for (size_t i = 0; i < s->node_count; i++)
        r->node[i] = (vugi_work_node){s->node[i].key, s->node[i].span, VUGI_NONE, VUGI_NONE, 0, 0,
            (uint32_t)i, s->node[i].z};
    for (size_t i = s->arc_count; i-- > 0;) {
        const vugi_raw_arc *a = s->arc + i;
        r->arc[i] = (vugi_work_arc){.lo = a->lo,
            .hi = a->hi,
            .into = (uint32_t)i,
            .volume = a->volume,
            .top = INFINITY,
            .lip = -INFINITY};
        link_up(r, a->from, (uint32_t)i);
        link_down(r, a->to, (uint32_t)i);
    }
    return VUG_OK;
}

vug_status vugi_reduce(vug_context *ctx, const vugi_allocator *mem, const vugi_sweep *sweep,
    vugi_reduced *r)
{
    vug_status status = load(ctx, mem, sweep, r);
    if (status)
        return status;
    candidate *list = vugi_alloc(mem, sweep->arc_count, sizeof *list);
    if (!list) {
        vugi_reduced_free(mem, r);
        return vugi_fail_memory(ctx);
    }
    for (size_t i = 0; i < r->arc_count; i++)
        if (r->arc[i].lo == r->arc[i].hi)
            contract(r, (uint32_t)i);
    for (size_t i = 0; i < r->node_count; i++)
        fuse(r, (uint32_t)i);
    double h = sweep->columns->h;
    limits l = {.tiny = 4.0 * h, .small = 20.0 * h, .height = 0.5 * h, .step = sweep->scale.step};
    double whole = 0.0;
    size_t left = 0;
    bool fits = true;
    for (size_t i = 0; i < r->arc_count; i++) {
        whole += r->arc[i].volume;
        left += r->arc[i].into == i;
    }
    for (
        ;
        ;) { /* a very rough cavity loses more of its hollows, but none above a ten-thousandth of it */
        size_t gone;
        while ((gone = prune(mem, r, &l, list, &fits)) > 0)
            left -= gone < left ? gone : left;
        if (!fits || left <= ARCS_MANY || l.tiny > 1e-4 * whole)
            break;
        l.tiny *= 2.0;
        l.small *= 2.0;
        l.height *= 1.25;
    }
    vugi_free(mem, list);
    if (!fits)
        vugi_reduced_free(mem, r);
    return fits ? VUG_OK : vugi_fail_memory(ctx);
}

void vugi_reduced_free(const vugi_allocator *mem, vugi_reduced *r)
{
    vugi_free(mem, r->arc);
    vugi_free(mem, r->node);
    *r = (vugi_reduced){.arc = NULL};
}
