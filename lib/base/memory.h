/* SPDX-License-Identifier: MIT
 * Memory: every object keeps a copy of the allocator, so it can outlive its context. */
#ifndef VUGI_BASE_MEMORY_H
#define VUGI_BASE_MEMORY_H

#include "vug.h"

#include <stdbool.h>
#include <stddef.h>

/* Fetches what will be wanted soon. */
#if defined(__GNUC__)
#define VUGI_PREFETCH(p) __builtin_prefetch(p)
#else
#define VUGI_PREFETCH(p) ((void)(p))
#endif

typedef struct vugi_allocator {
    vug_alloc_fn alloc;
    vug_realloc_fn realloc;
    vug_free_fn free;
    void *user;
} vugi_allocator;

/* The C library's allocator, the only place that names malloc. */
extern const vugi_allocator vugi_default_allocator;

/* count * size bytes, NULL if that overflows or the allocator says no. Zero asks for 1. */
void *vugi_alloc(const vugi_allocator *mem, size_t count, size_t size);
void *vugi_calloc(const vugi_allocator *mem, size_t count, size_t size);
void *vugi_realloc(const vugi_allocator *mem, void *ptr, size_t count, size_t size);
void vugi_free(const vugi_allocator *mem, void *ptr);

/* Makes room for need elements of elem bytes in the growing array *ptr whose capacity is
 * *capacity: doubles, so that appends are cheap. false: no memory, nothing changed. */
bool vugi_reserve(const vugi_allocator *mem, void *ptr, size_t *capacity, size_t need, size_t elem);

#endif
