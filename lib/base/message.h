/* SPDX-License-Identifier: MIT
 * Messages of failed calls, and warnings. */
#ifndef VUGI_BASE_MESSAGE_H
#define VUGI_BASE_MESSAGE_H

#include "base/format.h"

#include "vug.h"

/* Sets the message (ctx may be NULL) and returns status, for `return vugi_fail(...)`. */
vug_status vugi_fail(vug_context *ctx, vug_status status, const char *format, ...)
    VUGI_PRINTF(3, 4);
vug_status vugi_fail_memory(vug_context *ctx);
void vugi_warn(vug_context *ctx, const char *format, ...) VUGI_PRINTF(2, 3);

#endif
