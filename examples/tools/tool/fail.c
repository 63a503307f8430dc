/* SPDX-License-Identifier: MIT */
#include "fail.h"

#include "progress.h"

#include <stdarg.h>
#include <stdio.h>

TOOL_PRINTF(2, 0)
static void print_message(const tool *program, const char *format, va_list args)
{
    progress_clear();
    fprintf(stderr, "%s: ", program->name);
    vfprintf(stderr, format, args);
    fputc('\n', stderr);
}

int fail(const tool *program, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    print_message(program, format, args);
    va_end(args);
    return FAILED;
}

int fail_usage(const tool *program, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    print_message(program, format, args);
    va_end(args);
    fprintf(stderr, "Try '%s --help'.\n", program->name);
    return USAGE;
}

int fail_status(const tool *program, const vug_context *ctx, vug_status status)
{
    const char *message = vug_context_message(ctx);
    fail(program, "%s", *message ? message : vug_status_string(status));
    return status == VUG_ERR_ARGUMENT ? USAGE : FAILED;
}

void print_warnings(const tool *program, const vug_context *ctx)
{
    progress_clear();
    for (size_t i = 0; vug_context_warning(ctx, i); i++)
        fprintf(stderr, "%s: warning: %s\n", program->name, vug_context_warning(ctx, i));
}
