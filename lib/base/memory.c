/* SPDX-License-Identifier: MIT */
#include "base/memory.h"

#include "vug.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

static void *default_alloc(void *user, size_t size)
{
    (void)user;
    return malloc(size);
}

static void *default_realloc(void *user, void *ptr, size_t size)
{
    (void)user;
    return realloc(ptr, size);
}

static void default_free(void *user, void *ptr)
{
    (void)user;
    free(ptr);
}

const vugi_allocator vugi_default_allocator = {default_alloc, default_realloc, default_free, NULL};

/* 0 if count * size does not fit. */
static size_t byte_count(size_t count, size_t size)
{
    if (count == 0 || size == 0)
        return 1;
    if (count > SIZE_MAX / 2 / size)
        return 0;
    return count * size;
}

void *vugi_alloc(const vugi_allocator *mem, size_t count, size_t size)
{
    size_t bytes = byte_count(count, size);
    return bytes ? mem->alloc(mem->user, bytes) : NULL;
}

void *vugi_calloc(const vugi_allocator *mem, size_t count, size_t size)
{
    void *ptr = vugi_alloc(mem, count, size);
    if (ptr)
        memset(ptr, 0, byte_count(count, size));
    return ptr;
}

void *vugi_realloc(const vugi_allocator *mem, void *ptr, size_t count, size_t size)
{
    size_t bytes = byte_count(count, size);
    return bytes ? mem->realloc(mem->user, ptr, bytes) : NULL;
}

void vugi_free(const vugi_allocator *mem, void *ptr)
{
    if (ptr)
        mem->free(mem->user, ptr);
}

bool vugi_reserve(const vugi_allocator *mem, void *ptr, size_t *capacity, size_t need, size_t elem)
{
    assert(elem > 0);
    void *old;
    if (need <= *capacity)
        return true;
    memcpy(&old, ptr, sizeof old);
    size_t room = *capacity < 16 ? 16 : *capacity + *capacity / 2;
    if (room < need)
        room = need;
    void *grown = vugi_realloc(mem, old, room, elem);
    if (!grown)
        return false;
    memcpy(ptr, &grown, sizeof grown);
    *capacity = room;
    return true;
}
