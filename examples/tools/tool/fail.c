/* SPDX-License-Identifier: MIT */
#include "fail.h"

#include "amounts.h"
#include "progress.h"

#include <ctype.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The library's messages have numbers with powers of ten: a person gets them written out. */
static void print_plainly(const char *text)
{
    char last = ' ';
    while (*text) {
        char *end;
        bool begins = isdigit((unsigned char)*text) && (last == ' ' || last == '-' || last == '(');
        size_t digits = strspn(text, "0123456789.");
        double number = begins && text[digits] == 'e' ? strtod(text, &end) : 0.0;
        if (number > 0.0 && end > text + digits && !isalnum((unsigned char)*end)) {
            fputs(amount_number(number).text, stderr);
            text = end;
            last = '0';
        } else {
            last = *text;
            fputc(*text++, stderr);
        }
    }
}

TOOL_PRINTF(2, 0)
static void print_message(const tool *program, const char *format, va_list args)
{
    char text[2048];
    progress_clear();
    fprintf(stderr, "%s: ", program->name);
    vsnprintf(text, sizeof text, format, args);
    print_plainly(text);
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
    for (size_t i = 0; vug_context_warning(ctx, i); i++) {
        fprintf(stderr, "%s: warning: ", program->name);
        print_plainly(vug_context_warning(ctx, i));
        fputc('\n', stderr);
    }
}
