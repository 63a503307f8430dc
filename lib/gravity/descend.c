/* SPDX-License-Identifier: MIT
 * Where liquid runs to that is let go somewhere: over the floors of the spans, always the lowest
 * next, filling hollows that the sampling makes and spilling out of them, until it is in a basin of
 * the gravity graph. */
#include "gravity/descend.h"

#include "base/heap.h"
#include "gravity/graph.h"

#include <assert.h>

struct vugi_descent_entry {
    double floor;
    uint32_t order, span;
};

typedef struct vugi_descent_entry entry;

static bool before(const void *left, const void *right)
{
    const entry *a = left, *b = right;
    return a->floor < b->floor || (a->floor == b->floor && a->order < b->order);
}

static bool push(const vugi_allocator *mem, vugi_descent *r, entry e)
{
    if (!vugi_reserve(mem, &r->heap, &r->capacity, r->count + 1, sizeof *r->heap))
        return false;
    vugi_heap_push(r->heap, &r->count, sizeof e, &e, before);
    return true;
}

static entry pop(vugi_descent *r)
{
    entry top;
    vugi_heap_pop(r->heap, &r->count, sizeof top, &top, before);
    return top;
}

static bool is_basin(const vugi_graph *g, uint32_t arc)
{
    assert(arc < g->arc_count);
    return g->node[g->arc[arc].from].downs == 0;
}

static bool spread(const vugi_allocator *mem, const vugi_graph *g, vugi_descent *r, uint32_t span,
    uint32_t column, const bool *blocked, uint32_t *order)
{
    assert(column < (uint32_t)g->columns->nx * (uint32_t)g->columns->ny);
    const vugi_columns *c = g->columns;
    for (uint32_t n = c->first[column]; n < c->first[column + 1]; n++) {
        if (r->mark[n] == r->stamp || !vugi_spans_touch(c, span, n)
            || vugi_gates_part(g->sweep.gate, span, n))
            continue;
        uint32_t arc = vugi_arc_at_floor(g, n);
        if (arc == VUGI_NONE || (blocked && blocked[arc]))
            continue;
        r->mark[n] = r->stamp;
        if (!push(mem, r, (entry){c->lo[n], (*order)++, n}))
            return false;
    }
    return true;
}

vug_status vugi_descend(vug_context *ctx, const vugi_allocator *mem, const vugi_graph *g,
    vugi_descent *r, uint32_t span, const bool *blocked, uint32_t *basin)
{
    assert(span < g->columns->count);
    const vugi_columns *c = g->columns;
    uint32_t order = 0, nx = (uint32_t)c->nx, ny = (uint32_t)c->ny;
    if (!r->mark && !(r->mark = vugi_calloc(mem, c->count + 1, sizeof *r->mark)))
        return vugi_fail_memory(ctx);
    r->stamp++;
    r->count = 0;
    double lowest = c->lo[span];
    r->mark[span] = r->stamp;
    *basin = VUGI_NONE;
    for (entry e = {c->lo[span], 0, span};; e = pop(r)) {
        if (e.floor < lowest) { /* over the edge: begin anew from here */
            lowest = e.floor;
            r->count = 0;
            r->mark[e.span] = ++r->stamp;
        }
        uint32_t arc = vugi_arc_at_floor(g, e.span), column = g->sweep.column[e.span];
        uint32_t x = column % nx, y = column / nx;
        if ((x > 0 && !spread(mem, g, r, e.span, column - 1, blocked, &order))
            || (x + 1 < nx && !spread(mem, g, r, e.span, column + 1, blocked, &order))
            || (y > 0 && !spread(mem, g, r, e.span, column - nx, blocked, &order))
            || (y + 1 < ny && !spread(mem, g, r, e.span, column + nx, blocked, &order)))
            return vugi_fail_memory(ctx);
        if (arc != VUGI_NONE && is_basin(g, arc) && (r->count == 0 || r->heap[0].floor > e.floor)) {
            *basin = arc;
            return VUG_OK;
        }
        if (r->count == 0)
            return VUG_OK;
    }
}

/* All spans on the way, and those of the hollows that it had to fill, lead to where it ends. */
static bool note(const vugi_allocator *mem, vugi_descent *r, uint32_t span)
{
    if (!vugi_reserve(mem, &r->passed, &r->passed_capacity, r->passes + 1, sizeof *r->passed))
        return false;
    r->passed[r->passes++] = span;
    return true;
}

vug_status vugi_descend_known(vug_context *ctx, const vugi_allocator *mem, const vugi_graph *g,
    vugi_descent *r, uint32_t span, uint32_t *landing)
{
    assert(span < g->columns->count);
    const vugi_columns *c = g->columns;
    uint32_t order = 0, nx = (uint32_t)c->nx, ny = (uint32_t)c->ny, basin = VUGI_NONE;
    if (landing[span] != VUGI_UNKNOWN)
        return VUG_OK;
    if (!r->mark && !(r->mark = vugi_calloc(mem, c->count + 1, sizeof *r->mark)))
        return vugi_fail_memory(ctx);
    r->count = r->passes = 0;
    r->mark[span] = ++r->stamp;
    double lowest = c->lo[span];
    for (entry e = {c->lo[span], 0, span};; e = pop(r)) {
        if (landing[e.span] != VUGI_UNKNOWN) {
            basin = landing[e.span];
            break;
        }
        if (e.floor < lowest) {
            lowest = e.floor;
            r->count = 0;
            r->mark[e.span] = ++r->stamp;
        }
        uint32_t arc = vugi_arc_at_floor(g, e.span), column = g->sweep.column[e.span];
        uint32_t x = column % nx, y = column / nx;
        if (!note(mem, r, e.span) || (x > 0 && !spread(mem, g, r, e.span, column - 1, NULL, &order))
            || (x + 1 < nx && !spread(mem, g, r, e.span, column + 1, NULL, &order))
            || (y > 0 && !spread(mem, g, r, e.span, column - nx, NULL, &order))
            || (y + 1 < ny && !spread(mem, g, r, e.span, column + nx, NULL, &order)))
            return vugi_fail_memory(ctx);
        if (arc != VUGI_NONE && is_basin(g, arc) && (r->count == 0 || r->heap[0].floor > e.floor))
            basin = arc;
        if (basin != VUGI_NONE || r->count == 0)
            break;
    }
    for (size_t i = 0; i < r->passes; i++)
        landing[r->passed[i]] = basin;
    return VUG_OK;
}

uint32_t vugi_basin_below(const vugi_graph *g, uint32_t arc)
{
    assert(arc < g->arc_count);
    while (!is_basin(g, arc)) {
        uint32_t below = vugi_arc_below(g, arc);
        assert(g->arc[below].hi <= g->arc[arc].lo);
        arc = below;
    }
    return arc;
}

void vugi_descent_free(const vugi_allocator *mem, vugi_descent *r)
{
    vugi_free(mem, r->mark);
    vugi_free(mem, r->heap);
    vugi_free(mem, r->passed);
    *r = (vugi_descent){.mark = NULL};
}
