/* SPDX-License-Identifier: MIT
 * Which arc is where at a height: what a sweep has written down tells it without looking for pieces again. */
#include "gravity/section.h"

#include "column/column.h"

/* Up to and with a key. A span that has moved may have ended since. */
static void rise(vugi_section *s, uint32_t key)
{
    const vugi_sweep *o = s->sweep;
    s->key = key;
    for (; s->event < o->event_count && o->event[s->event] >> 32 <= key; s->event++) {
        const uint32_t span = vugi_event_span(o->event[s->event]), column = o->column[span];
        const bool begins = vugi_event_begins(o->event[s->event]);
        s->span[column] = begins ? span : VUGI_NONE;
        s->label[column] = o->floor_arc[span];
    }
    for (; s->move < o->move_count && o->move[s->move].key <= key; s->move++) {
        const vugi_arc_move *m = o->move + s->move;
        const uint32_t column = o->column[m->span];
        if (s->span[column] == m->span)
            s->label[column] = m->arc;
    }
}

vug_status vugi_sections(vug_context *ctx, const vugi_allocator *mem, const vugi_sweep *sweep,
    const double *z, size_t count, vugi_section_fn visit, void *user)
{
    const size_t columns = (size_t)sweep->columns->nx * (size_t)sweep->columns->ny;
    vugi_section s = {.sweep = sweep,
        .span = vugi_alloc(mem, columns, sizeof *s.span),
        .label = vugi_alloc(mem, columns, sizeof *s.label),
        .next = vugi_alloc(mem, sweep->arc_count, sizeof *s.next)};
    bool good = s.span && s.label && s.next;
    vug_status status = good ? VUG_OK : vugi_fail_memory(ctx);
    for (size_t k = 0; k < columns && good; k++)
        s.span[k] = VUGI_NONE;
    for (size_t a = 0; a < sweep->arc_count && good; a++)
        s.next[a] = sweep->arc[a].next;
    for (size_t i = 0; i < count && !status; i++) {
        rise(&s, vugi_scale_key(sweep->scale, z[i]));
        status = visit(user, i, &s);
    }
    vugi_free(mem, s.span);
    vugi_free(mem, s.label);
    vugi_free(mem, s.next);
    return status;
}
