/* SPDX-License-Identifier: MIT
 * Where a Priority-Flood stands: what it goes on from, the highest first; what has its neighbour's level needs no
 * order and goes first of all. */
#ifndef VUGI_COLUMN_FRONT_H
#define VUGI_COLUMN_FRONT_H

#include "base/base.h"
#include "base/heap.h"

typedef struct vugi_front_entry {
    double level;
    uint32_t at;
} vugi_front_entry;

/* All zero at first, and empty after a flood; then used again, or freed. */
typedef struct vugi_front {
    vugi_front_entry *heap, *queue;
    size_t heap_count, heap_capacity, queue_count, queue_capacity;
} vugi_front;

static inline bool vugi_front_above(const void *left, const void *right)
{
    const vugi_front_entry *a = left, *b = right;
    return a->level > b->level || (a->level == b->level && a->at < b->at);
}

/* lower: than where it comes from. false: no memory. */
static inline bool vugi_front_push(const vugi_allocator *mem, vugi_front *f, vugi_front_entry e,
    bool lower)
{
    if (!lower) {
        if (!vugi_reserve(mem, &f->queue, &f->queue_capacity, f->queue_count + 1, sizeof e))
            return false;
        f->queue[f->queue_count++] = e;
        return true;
    }
    if (!vugi_reserve(mem, &f->heap, &f->heap_capacity, f->heap_count + 1, sizeof e))
        return false;
    vugi_heap_push(f->heap, &f->heap_count, sizeof e, &e, vugi_front_above);
    return true;
}

/* false: there is no more. */
static inline bool vugi_front_pop(vugi_front *f, vugi_front_entry *e)
{
    if (f->queue_count > 0)
        *e = f->queue[--f->queue_count];
    else if (f->heap_count > 0)
        vugi_heap_pop(f->heap, &f->heap_count, sizeof *e, e, vugi_front_above);
    else
        return false;
    return true;
}

static inline void vugi_front_free(const vugi_allocator *mem, vugi_front *f)
{
    vugi_free(mem, f->heap);
    vugi_free(mem, f->queue);
}

#endif
