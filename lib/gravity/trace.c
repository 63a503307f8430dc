/* SPDX-License-Identifier: MIT
 * A span stays in the section from its floor to its ceiling, so the arc that it lies in at a height is on every way between
 * the arcs at both: while there is only one way on, that is it. */
#include "gravity/trace.h"

/* More than one arc. */
#define SEVERAL (VUGI_NONE - 1)

/* Of each raw node: the arc above it, the arc below it; or SEVERAL, or VUGI_NONE. */
typedef struct ways {
    uint32_t *above, *below;
} ways;

static void note(uint32_t *way, uint32_t arc)
{
    *way = *way == VUGI_NONE ? arc : SEVERAL;
}

static bool find_ways(const vugi_allocator *mem, const vugi_sweep *s, ways *w)
{
    w->above = vugi_alloc(mem, s->node_count, sizeof *w->above);
    w->below = vugi_alloc(mem, s->node_count, sizeof *w->below);
    if (!w->above || !w->below)
        return false;
    for (size_t n = 0; n < s->node_count; n++)
        w->above[n] = w->below[n] = VUGI_NONE;
    for (uint32_t a = 0; a < s->arc_count; a++) {
        note(w->above + s->arc[a].from, a);
        note(w->below + s->arc[a].to, a);
    }
    return true;
}

/* From an arc on to the one at a key. VUGI_NONE: there is more than one way. */
static uint32_t follow(const vugi_sweep *s, const ways *w, uint32_t arc, uint32_t key, bool up)
{
    while (arc < SEVERAL) {
        const vugi_raw_arc *a = s->arc + arc;
        if (a->lo <= key && key < a->hi)
            return arc;
        if (up ? a->lo > key : a->hi <= key && a->lo < key)
            return VUGI_NONE;
        arc = up ? w->above[a->to] : w->below[a->from];
    }
    return VUGI_NONE;
}

static uint32_t answer(const vugi_sweep *s, const ways *w, const vugi_query *q)
{
    const uint32_t key = vugi_query_key(s, q);
    uint32_t arc = follow(s, w, s->floor_arc[q->span], key, true);
    return arc != VUGI_NONE ? arc : follow(s, w, s->ceiling_arc[q->span], key, false);
}

vug_status vugi_sweep_ask(vug_context *ctx, const vugi_allocator *mem, const vugi_sweep *s,
    vugi_query *query, size_t count)
{
    ways w = {.above = NULL};
    bool good = find_ways(mem, s, &w), all = true;
    vug_status status = good ? VUG_OK : vugi_fail_memory(ctx);
    for (size_t i = 0; i < count && good; i++) {
        query[i].arc = answer(s, &w, query + i);
        all = all && query[i].arc != VUGI_NONE;
    }
    if (good && !all)
        status = vugi_sweep_answer(ctx, mem, s, query, count);
    vugi_free(mem, w.above);
    vugi_free(mem, w.below);
    return status;
}
