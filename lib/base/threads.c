/* SPDX-License-Identifier: MIT */
#include "base/threads.h"

#include "base/context_types.h"

#include "vug.h"

#ifdef _OPENMP
#include <omp.h>
#endif

int vugi_threads(const vug_context *ctx, size_t count)
{
#ifdef _OPENMP
    size_t threads = ctx ? ctx->threads : (size_t)omp_get_num_procs();
#else
    size_t threads = 1;
    (void)ctx;
#endif
    if (threads > count)
        threads = count;
    if (threads > VUG_MAX_THREADS)
        threads = VUG_MAX_THREADS;
    return threads < 1 ? 1 : (int)threads;
}

int vugi_thread_index(void)
{
#ifdef _OPENMP
    return omp_get_thread_num();
#else
    return 0;
#endif
}
