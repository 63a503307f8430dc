/* SPDX-License-Identifier: MIT
 * Errors and warnings on stderr, with the exit code to leave with. */
#ifndef TOOLS_TOOL_FAIL_H
#define TOOLS_TOOL_FAIL_H

#include "tool.h"

#include <vug.h>

#if defined(__GNUC__)
#define TOOL_PRINTF(fmt, args) __attribute__((format(printf, fmt, args)))
#else
#define TOOL_PRINTF(fmt, args)
#endif

/* Prints "name: message" on stderr and returns FAILED, for `return fail(...)`. */
int fail(const tool *program, const char *format, ...) TOOL_PRINTF(2, 3);

/* The same for wrong arguments: adds where to find help and returns USAGE. */
int fail_usage(const tool *program, const char *format, ...) TOOL_PRINTF(2, 3);

/* The message of a failed library call. USAGE if the arguments were at fault, else FAILED. */
int fail_status(const tool *program, const vug_context *ctx, vug_status status);

/* Warnings of ctx, one a line on stderr. */
void print_warnings(const tool *program, const vug_context *ctx);

#endif
