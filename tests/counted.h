/* SPDX-License-Identifier: MIT
 * An allocator that counts the bytes in use, by a size before each block. */
#ifndef VUG_TEST_COUNTED_H
#define VUG_TEST_COUNTED_H

#include "vug.h"

#include <stdatomic.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

typedef struct counted {
    atomic_size_t used, most, largest;
} counted;

/* Before each block, so that it stays aligned. */
enum { COUNTED_HEAD = 32 };

static inline void counted_raise(atomic_size_t *most, size_t now)
{
    size_t seen = atomic_load(most);
    while (now > seen && !atomic_compare_exchange_weak(most, &seen, now))
        ;
}

static inline void *counted_realloc(void *user, void *old, size_t size)
{
    counted *c = user;
    unsigned char *head = old ? (unsigned char *)old - COUNTED_HEAD : NULL;
    size_t before = 0;
    if (head)
        memcpy(&before, head, sizeof before);
    if (!(head = realloc(head, size + COUNTED_HEAD)))
        return NULL;
    memcpy(head, &size, sizeof size);
    const size_t more = size - before; /* modulo: less is more too */
    counted_raise(&c->most, atomic_fetch_add(&c->used, more) + more);
    counted_raise(&c->largest, size);
    return head + COUNTED_HEAD;
}

static inline void *counted_alloc(void *user, size_t size)
{
    return counted_realloc(user, NULL, size);
}

static inline void counted_free(void *user, void *p)
{
    counted *c = user;
    size_t size;
    unsigned char *head = (unsigned char *)p - COUNTED_HEAD;
    memcpy(&size, head, sizeof size);
    atomic_fetch_sub(&c->used, size);
    free(head);
}

/* From here on the most is what is in use now. */
static inline void counted_begin(counted *c)
{
    atomic_store(&c->most, atomic_load(&c->used));
}

/* A context on c with so many threads (0: as many as there are) and a limit (0: none); NULL: no memory. */
static inline vug_context *counted_context(counted *c, uint32_t threads, uint64_t limit)
{
    vug_context_options options;
    vug_context *ctx = NULL;
    atomic_init(&c->used, 0);
    atomic_init(&c->most, 0);
    atomic_init(&c->largest, 0);
    if (vug_context_options_init(&options, sizeof options))
        return NULL;
    options.threads = threads;
    options.alloc = counted_alloc;
    options.realloc = counted_realloc;
    options.free = counted_free;
    options.alloc_user = c;
    options.memory_limit_bytes = limit;
    return vug_context_create(&options, &ctx) ? NULL : ctx;
}

#endif
