/* SPDX-License-Identifier: MIT
 * Messages of failed calls, and warnings. */
#ifndef VUGI_BASE_MESSAGE_H
#define VUGI_BASE_MESSAGE_H

#include "base/format.h"

#include "vug.h"

#include <stdbool.h>

/* Sets the message (ctx may be NULL) and returns status, for `return vugi_fail(...)`. */
vug_status vugi_fail(vug_context *ctx, vug_status status, const char *format, ...)
    VUGI_PRINTF(3, 4);
vug_status vugi_fail_memory(vug_context *ctx);

/* Before long work that takes about so many bytes at its most: VUG_ERR_MEMORY where the context's limit leaves less. An
 * estimate that takes time itself is only needed if there is a limit. */
vug_status vugi_expect_memory(vug_context *ctx, double bytes, const char *work);
bool vugi_memory_limited(const vug_context *ctx);
void vugi_warn(vug_context *ctx, const char *format, ...) VUGI_PRINTF(2, 3);

#endif
