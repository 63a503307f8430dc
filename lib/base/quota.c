/* SPDX-License-Identifier: MIT
 * Each block has its size written before it: who frees it does not tell. */
#include "base/quota.h"

#include <stdatomic.h>
#include <stddef.h>
#include <string.h>

enum { HEAD = sizeof(max_align_t) }; /* keeps what follows aligned for any type */

struct vugi_quota {
    vugi_allocator under;
    uint64_t most;
    _Atomic uint64_t used, refused, used_then;
    atomic_size_t owners; /* the context and the blocks */
};

static void let_go(vugi_quota *limit)
{
    vugi_allocator under = limit->under;
    if (atomic_fetch_sub(&limit->owners, 1) == 1)
        under.free(under.user, limit);
}

/* Books bytes; false: there is no room for them. */
static bool book(vugi_quota *limit, uint64_t bytes)
{
    uint64_t used = atomic_load(&limit->used);
    do {
        if (bytes <= limit->most && used <= limit->most - bytes)
            continue;
        atomic_store(&limit->used_then, used);
        atomic_store(&limit->refused, bytes);
        return false;
    } while (!atomic_compare_exchange_weak(&limit->used, &used, used + bytes));
    return true;
}

static size_t size_of(const unsigned char *head)
{
    size_t size;
    memcpy(&size, head, sizeof size);
    return size;
}

static void *counted_realloc(void *user, void *ptr, size_t size)
{
    vugi_quota *limit = user;
    unsigned char *head = ptr ? (unsigned char *)ptr - HEAD : NULL;
    size_t before = head ? size_of(head) : 0;
    if (size > SIZE_MAX - HEAD || !book(limit, size))
        return NULL;
    unsigned char *grown = head ? limit->under.realloc(limit->under.user, head, size + HEAD)
                                : limit->under.alloc(limit->under.user, size + HEAD);
    if (!grown) {
        atomic_fetch_sub(&limit->used, size);
        return NULL;
    }
    atomic_fetch_sub(&limit->used, before);
    if (!head)
        atomic_fetch_add(&limit->owners, 1);
    memcpy(grown, &size, sizeof size);
    return grown + HEAD;
}

static void *counted_alloc(void *user, size_t size)
{
    return counted_realloc(user, NULL, size);
}

static void counted_free(void *user, void *ptr)
{
    vugi_quota *limit = user;
    unsigned char *head = (unsigned char *)ptr - HEAD;
    atomic_fetch_sub(&limit->used, size_of(head));
    limit->under.free(limit->under.user, head);
    let_go(limit);
}

vugi_quota *vugi_quota_new(vugi_allocator *mem, uint64_t most)
{
    vugi_quota *limit = vugi_alloc(mem, 1, sizeof *limit);
    if (!limit)
        return NULL;
    limit->under = *mem;
    limit->most = most;
    atomic_init(&limit->used, 0);
    atomic_init(&limit->refused, 0);
    atomic_init(&limit->used_then, 0);
    atomic_init(&limit->owners, 1);
    *mem = (vugi_allocator){counted_alloc, counted_realloc, counted_free, limit};
    return limit;
}

void vugi_quota_leave(vugi_quota *limit)
{
    if (limit)
        let_go(limit);
}

uint64_t vugi_quota_used(const vugi_quota *limit, uint64_t *most)
{
    *most = limit->most;
    return atomic_load(&limit->used);
}

uint64_t vugi_quota_refused(vugi_quota *limit, uint64_t *used, uint64_t *most)
{
    if (!limit)
        return 0;
    *used = atomic_load(&limit->used_then);
    *most = limit->most;
    return atomic_exchange(&limit->refused, 0);
}
