/* SPDX-License-Identifier: MIT
 * The pixel of a span is in the arc at its floor, then in those that it moves to, and from each on in the one that comes
 * next. */
#include "gravity/trace.h"

/* Where each span moves to: those of span s are move[first[s]] to move[first[s + 1] - 1], in order of key. */
typedef struct moves {
    uint32_t *first;
    vugi_arc_move *move;
} moves;

static bool sort_moves(const vugi_allocator *mem, const vugi_sweep *s, moves *m)
{
    const size_t spans = s->columns->count;
    m->first = vugi_calloc(mem, spans + 2, sizeof *m->first);
    m->move = vugi_alloc(mem, s->move_count, sizeof *m->move);
    if (!m->first || !m->move)
        return false;
    uint32_t *place = m->first + 1;
    for (size_t i = 0; i < s->move_count; i++)
        place[s->move[i].span + 1]++;
    for (size_t n = 1; n <= spans; n++)
        place[n] += place[n - 1];
    for (size_t i = 0; i < s->move_count; i++)
        m->move[place[s->move[i].span]++] = s->move[i];
    return true;
}

static uint32_t answer(const vugi_sweep *s, const moves *m, const vugi_query *q)
{
    const uint32_t key = vugi_query_key(s, q);
    uint32_t arc = s->floor_arc[q->span];
    for (uint32_t i = m->first[q->span]; i < m->first[q->span + 1] && m->move[i].key <= key; i++)
        arc = m->move[i].arc;
    while (arc != VUGI_NONE && s->arc[arc].hi <= key)
        arc = s->arc[arc].next;
    return arc;
}

vug_status vugi_sweep_ask(vug_context *ctx, const vugi_allocator *mem, const vugi_sweep *s,
    vugi_query *query, size_t count)
{
    moves m = {.first = NULL};
    bool good = sort_moves(mem, s, &m);
    for (size_t i = 0; i < count && good; i++)
        query[i].arc = answer(s, &m, query + i);
    vugi_free(mem, m.first);
    vugi_free(mem, m.move);
    return good ? VUG_OK : vugi_fail_memory(ctx);
}
