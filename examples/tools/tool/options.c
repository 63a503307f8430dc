/* SPDX-License-Identifier: MIT */
#include "options.h"

#include "fail.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Text broken at spaces into lines of at most 79 columns, all but the first indented. */
static void print_wrapped(const char *text, int column, int indent)
{
    while (*text) {
        size_t word = strcspn(text, " \n");
        if (column > indent && column + (int)word > 79) {
            printf("\n%*s", indent, "");
            column = indent;
        }
        printf("%.*s", (int)word, text);
        column += (int)word;
        text += word;
        if (*text == '\n') {
            printf("\n%*s", indent, "");
            column = indent;
            text++;
        } else if (*text == ' ') {
            text++;
            if (column + 1 + (int)strcspn(text, " \n") <= 79) {
                putchar(' ');
                column++;
            } else {
                printf("\n%*s", indent, "");
                column = indent;
            }
        }
    }
    putchar('\n');
}

static void print_option(const char *name, const char *value, const char *help)
{
    const int indent = 24;
    int column = printf("  %s%s%s", name, value ? " " : "", value ? value : "");
    if (column > indent - 2) {
        putchar('\n');
        column = 0;
    }
    printf("%*s", indent - column, "");
    print_wrapped(help, indent, indent);
}

static void print_help(const tool *program)
{
    printf("Usage: %s%s%s [OPTION]...\n\n", program->name, *program->operands ? " " : "",
        program->operands);
    print_wrapped(program->about, 0, 0);
    printf("\nOptions:\n");
    for (size_t i = 0; i < program->option_count; i++) {
        const option *o = &program->options[i];
        print_option(o->name, o->value, o->help);
    }
    print_option("--help", NULL, "Print this help and leave.");
    print_option("--version", NULL, "Print the version and leave.");
    if (program->notes) {
        putchar('\n');
        print_wrapped(program->notes, 0, 0);
    }
    printf("\nExit status: 0 done, 1 failed, 2 wrong arguments.\n");
}

bool parse_numbers(const char *text, double *number, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char *end = NULL;
        number[i] = strtod(text, &end);
        if (end == text || !isfinite(number[i]) || *end != (i + 1 < count ? ',' : '\0'))
            return false;
        text = end + 1;
    }
    return true;
}

static int read_row(const tool *program, const option *o, const char *text)
{
    number_rows *rows = o->target;
    double *grown = realloc(rows->number, (rows->count + 1) * rows->width * sizeof *grown);
    if (!grown)
        return fail(program, "no memory");
    rows->number = grown;
    if (!parse_numbers(text, grown + rows->count * rows->width, rows->width))
        return fail_usage(program, "%s wants %zu numbers %s, not '%s'", o->name, rows->width,
            o->value, text);
    rows->count++;
    return GO_ON;
}

static int read_number(const tool *program, const option *o, const char *text)
{
    double number = 0.0;
    bool whole = o->kind == OPTION_WHOLE;
    if (!parse_numbers(text, &number, 1) || (whole && number != floor(number)))
        return fail_usage(program, "%s wants a %snumber, not '%s'", o->name, whole ? "whole " : "",
            text);
    if (number < o->lo || number > o->hi)
        return fail_usage(program, "%s must be from %g to %g, not %g", o->name, o->lo, o->hi,
            number);
    if (whole)
        *(int64_t *)o->target = (int64_t)number;
    else
        *(double *)o->target = number;
    return GO_ON;
}

static int read_value(const tool *program, const option *o, const char *text)
{
    switch (o->kind) {
    case OPTION_TEXT:
        if (!*text)
            return fail_usage(program, "%s wants %s", o->name, o->value);
        *(const char **)o->target = text;
        return GO_ON;
    case OPTION_ROW:
        if (!parse_numbers(text, o->target, o->row))
            return fail_usage(program, "%s wants %zu numbers %s, not '%s'", o->name, o->row,
                o->value, text);
        return GO_ON;
    case OPTION_ROWS:
        return read_row(program, o, text);
    default:
        return read_number(program, o, text);
    }
}

/* The option that arg names, alone or as --name=value. */
static const option *find_option(const tool *program, const char *arg)
{
    size_t length = strcspn(arg, "=");
    for (size_t i = 0; i < program->option_count; i++) {
        const char *name = program->options[i].name;
        if (strlen(name) == length && strncmp(name, arg, length) == 0)
            return &program->options[i];
    }
    return NULL;
}

/* Reads the option at argv[*at], moving *at to its last word. */
static int read_option(const tool *program, int argc, char **argv, int *at)
{
    const char *arg = argv[*at];
    const char *equals = strchr(arg, '=');
    const option *o = find_option(program, arg);
    if (!o)
        return fail_usage(program, "unknown option '%s'", arg);
    if (o->kind == OPTION_FLAG) {
        if (equals)
            return fail_usage(program, "%s takes no value", o->name);
        *(bool *)o->target = true;
        return GO_ON;
    }
    if (equals)
        return read_value(program, o, equals + 1);
    if (*at + 1 == argc)
        return fail_usage(program, "%s wants %s", o->name, o->value);
    return read_value(program, o, argv[++*at]);
}

int options_read(const tool *program, int argc, char **argv, const char **operands)
{
    size_t count = 0;
    bool only_operands = false;
    for (int at = 1; at < argc; at++) {
        const char *arg = argv[at];
        if (!only_operands && strcmp(arg, "--help") == 0) {
            print_help(program);
            return DONE;
        }
        if (!only_operands && strcmp(arg, "--version") == 0) {
            printf("%s (vug) %s\n", program->name, vug_version_string());
            return DONE;
        }
        if (!only_operands && strcmp(arg, "--") == 0) {
            only_operands = true;
        } else if (!only_operands && strncmp(arg, "--", 2) == 0) {
            int code = read_option(program, argc, argv, &at);
            if (code != GO_ON)
                return code;
        } else if (count == program->operand_count) {
            return fail_usage(program, "one argument too many: '%s'", arg);
        } else {
            operands[count++] = arg;
        }
    }
    if (count < program->operand_count)
        return fail_usage(program, "wanted: %s", program->operands);
    return GO_ON;
}

option *options_add(option *to, const option *list, size_t count)
{
    memcpy(to, list, count * sizeof *list);
    return to + count;
}
