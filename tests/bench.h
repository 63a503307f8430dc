/* SPDX-License-Identifier: MIT
 * What benchmarks share: clocks, and an end where a call fails. POSIX clocks: define _POSIX_C_SOURCE first. */
#ifndef VUG_TEST_BENCH_H
#define VUG_TEST_BENCH_H

#include "vug.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static inline double bench_seconds(clockid_t clock)
{
    struct timespec t;
    clock_gettime(clock, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static inline double bench_now(void)
{
    return bench_seconds(CLOCK_MONOTONIC);
}

static inline double bench_cpu(void)
{
    return bench_seconds(CLOCK_PROCESS_CPUTIME_ID);
}

static inline void bench_must(vug_context *ctx, vug_status status)
{
    if (status) {
        fprintf(stderr, "benchmark: %s\n", vug_context_message(ctx));
        exit(1);
    }
}

#endif
