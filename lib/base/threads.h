/* SPDX-License-Identifier: MIT */
#ifndef VUGI_BASE_THREADS_H
#define VUGI_BASE_THREADS_H

#include "vug.h"

#include <stddef.h>

/* Threads worth using for count pieces of work. */
int vugi_threads(const vug_context *ctx, size_t count);

/* Number of this thread in the running parallel region, 0 without OpenMP. */
int vugi_thread_index(void);

#endif
