/* SPDX-License-Identifier: MIT
 * The section of a sweep that is done, at any height. */
#ifndef VUGI_GRAVITY_SECTION_H
#define VUGI_GRAVITY_SECTION_H

#include "gravity/sweep.h"

typedef struct vugi_section {
    const vugi_sweep *sweep;
    uint32_t *span,
        *label;     /* of each column: its span, or VUGI_NONE, and an arc that leads to its own */
    uint32_t *next; /* of each arc: as in the sweep, or one further on that has ended too */
    uint32_t key;   /* height */
    size_t event, move; /* done */
} vugi_section;

/* Of a column: the span, the raw arc; VUGI_NONE: it is not in the section. */
static inline uint32_t vugi_section_span(const vugi_section *s, size_t column)
{
    return s->span[column];
}

/* Arcs that have ended lead on. Halving the way keeps it short. */
static inline uint32_t vugi_section_arc(const vugi_section *s, size_t column)
{
    const vugi_raw_arc *arc = s->sweep->arc;
    if (s->span[column] == VUGI_NONE)
        return VUGI_NONE;
    uint32_t a = s->label[column];
    while (arc[a].hi <= s->key) {
        uint32_t next = s->next[a];
        if (arc[next].hi <= s->key)
            next = s->next[a] = s->next[next];
        a = next;
    }
    return a;
}

typedef vug_status (*vugi_section_fn)(void *user, size_t stop, const vugi_section *section);

/* Calls with the section at each of the heights, which rise. */
vug_status vugi_sections(vug_context *ctx, const vugi_allocator *mem, const vugi_sweep *sweep,
    const double *z, size_t count, vugi_section_fn visit, void *user);

#endif
