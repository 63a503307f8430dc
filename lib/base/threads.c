/* SPDX-License-Identifier: MIT */
#define _POSIX_C_SOURCE 200809L /* getpid */

#include "base/threads.h"

#include "base/context_types.h"

#include "vug.h"

#ifdef _OPENMP
#include <omp.h>
#endif

#if defined(_OPENMP) && !defined(_WIN32)

#include <unistd.h>

/* The process in which this library's first team of threads started: set once, 0 before. GCC's OpenMP
 * keeps the team for the next loop, and a child after fork() inherits the record of it, but none of
 * its threads: it would wait for them for ever. A child cannot tell by anything in its context, which
 * may be a new one, nor ask OpenMP; so the number has to outlive contexts. */
static atomic_long team_process;

/* After the first team, a child of its process works on one thread. */
static bool may_team(void)
{
    long here = (long)getpid(), none = 0;
    return atomic_compare_exchange_strong(&team_process, &none, here) || none == here;
}

#else

static bool may_team(void)
{
    return true;
}

#endif

int vugi_threads(const vug_context *ctx, size_t count)
{
#ifdef _OPENMP
    size_t threads = ctx ? ctx->threads : (size_t)omp_get_num_procs();
#else
    size_t threads = 1;
#endif
    if (threads > count)
        threads = count;
    if (threads > VUG_MAX_THREADS)
        threads = VUG_MAX_THREADS;
    if (threads < 1 || (ctx && threads > 1 && !may_team()))
        threads = 1;
    return (int)threads;
}

int vugi_thread_index(void)
{
#ifdef _OPENMP
    return omp_get_thread_num();
#else
    return 0;
#endif
}
