/* SPDX-License-Identifier: MIT
 * An allocator whose n-th request fails, and which counts what is still held. */
#ifndef VUG_TEST_FAILING_H
#define VUG_TEST_FAILING_H

#include "test.h"

#include <limits.h>
#include <stdatomic.h>

typedef struct failing {
    atomic_long left; /* requests that still succeed; negative: all of them */
    atomic_long held; /* blocks not freed */
} failing;

static inline int failing_now(failing *f)
{
    return atomic_load(&f->left) >= 0 && atomic_fetch_sub(&f->left, 1) <= 0;
}

static inline void *failing_alloc(void *user, size_t size)
{
    failing *f = user;
    void *p = failing_now(f) ? NULL : malloc(size);
    if (p)
        atomic_fetch_add(&f->held, 1);
    return p;
}

static inline void *failing_realloc(void *user, void *old, size_t size)
{
    failing *f = user;
    void *p = failing_now(f) ? NULL : realloc(old, size);
    if (p && !old)
        atomic_fetch_add(&f->held, 1);
    return p;
}

static inline void failing_free(void *user, void *p)
{
    failing *f = user;
    atomic_fetch_sub(&f->held, 1);
    free(p);
}

/* A context on f, which lets everything through at first. */
static inline vug_context *failing_context(failing *f)
{
    vug_context_options options;
    vug_context *ctx = NULL;
    atomic_init(&f->left, -1);
    atomic_init(&f->held, 0);
    ck_assert_int_eq(vug_context_options_init(&options, sizeof options), VUG_OK);
    options.alloc = failing_alloc;
    options.realloc = failing_realloc;
    options.free = failing_free;
    options.alloc_user = f;
    ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_OK);
    return ctx;
}

/* Runs job(ctx, data) with the first, then the second, ... request failing, until it works; after the
 * first dense of them only with one in so many, ever fewer: each further by a share of the last. Each failure must be
 * VUG_ERR_MEMORY and must leave nothing behind. Gives a number of requests that was enough. */
static inline long failing_by(vug_status (*job)(vug_context *ctx, void *data), void *data,
    long dense, double share)
{
    long n = 0;
    failing f;
    vug_context *ctx = failing_context(&f);
    long before = atomic_load(&f.held);
    for (;; n += n < dense ? 1 : (long)fmax(1.0, share * (double)n)) {
        ck_assert_int_lt(n, 10000000);
        atomic_store(&f.left, n);
        vug_status status = job(ctx, data);
        int used_up = atomic_load(&f.left) < 0;
        atomic_store(&f.left, -1);
        vug_context_clear_warnings(ctx);
        ck_assert_msg(atomic_load(&f.held) == before, "request %ld failed: %ld blocks leaked", n,
            atomic_load(&f.held) - before);
        if (!used_up) {
            ck_ok(ctx, status);
            break;
        }
        ck_assert_msg(status == VUG_ERR_MEMORY || status == VUG_OK, "request %ld failed: %s", n,
            vug_status_name(status));
    }
    vug_context_free(ctx);
    ck_assert_int_eq(atomic_load(&f.held), 0);
    return n;
}

/* For a job that makes many requests or takes long. */
static inline long failing_some_until_success(vug_status (*job)(vug_context *ctx, void *data),
    void *data, long dense)
{
    return failing_by(job, data, dense, test_quick() ? 1.0 : 0.5);
}

/* The same with each of them; in quick runs with the first fifty and then some. */
static inline long failing_until_success(vug_status (*job)(vug_context *ctx, void *data),
    void *data)
{
    return failing_by(job, data, test_quick() ? 50 : LONG_MAX, 0.1);
}

#endif
