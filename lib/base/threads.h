/* SPDX-License-Identifier: MIT */
#ifndef VUGI_BASE_THREADS_H
#define VUGI_BASE_THREADS_H

#include "vug.h"

#include <stddef.h>
#include <stdint.h>

/* Threads worth using for count pieces of work. */
int vugi_threads(const vug_context *ctx, size_t count);

/* Number of this thread in the running parallel region, 0 without OpenMP. */
int vugi_thread_index(void);

/* Sets a flag that several threads may set, and that is read after them. */
static inline void vugi_raise(uint8_t *flag)
{
#pragma omp atomic write
    *flag = 1;
}

#endif
