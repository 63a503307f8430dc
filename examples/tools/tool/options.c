/* SPDX-License-Identifier: MIT */
#include "options.h"

#include "amounts.h"
#include "fail.h"

#include <getopt.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void print_wrapped(const char *text, int column, int indent)
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
    print_option("-h, --help", NULL, "Print this help and leave.");
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

/* Room for one more row, or NULL after a message. */
static double *next_row(const tool *program, number_rows *rows)
{
    double *grown = realloc(rows->number, (rows->count + 1) * rows->width * sizeof *grown);
    if (!grown) {
        fail(program, "no memory");
        return NULL;
    }
    rows->number = grown;
    return grown + rows->count * rows->width;
}

static int read_row(const tool *program, const option *o, const char *text)
{
    number_rows *rows = o->target;
    double *row = next_row(program, rows);
    if (!row)
        return FAILED;
    if (!parse_numbers(text, row, rows->width))
        return fail_usage(program, "%s wants %zu numbers %s, not '%s'", o->name, rows->width,
            o->value, text);
    rows->count++;
    return GO_ON;
}

static int read_opening(const tool *program, const option *o, const char *text)
{
    size_t number = 0;
    if (vug_opening_number(NULL, text, &number))
        return fail_usage(program, "%s wants an opening, A, B ... or its number from 0, not '%s'",
            o->name, text);
    if (o->kind == OPTION_OPENING) {
        *(int64_t *)o->target = (int64_t)number;
        return GO_ON;
    }
    number_rows *rows = o->target;
    double *row = next_row(program, rows);
    if (!row)
        return FAILED;
    *row = (double)number;
    rows->count++;
    return GO_ON;
}

static int read_up(const tool *program, const option *o, const char *text)
{
    double *up = o->target;
    if (!parse_numbers(text, up, 3) && vug_pose_parse(NULL, text, up))
        return fail_usage(program,
            "%s wants three numbers X,Y,Z, or a pose such as \"its top up, leaning 25 degrees so "
            "that its front rises\", not '%s'",
            o->name, text);
    if (up[0] == 0.0 && up[1] == 0.0 && up[2] == 0.0)
        return fail_usage(program, "%s wants a direction; %s has none", o->name, text);
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
        return fail_usage(program, "%s must be from %s to %s, not %s", o->name,
            amount_number(o->lo).text, amount_number(o->hi).text, amount_number(number).text);
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
    case OPTION_UP:
        return read_up(program, o, text);
    case OPTION_OPENING:
    case OPTION_OPENINGS:
        return read_opening(program, o, text);
    default:
        return read_number(program, o, text);
    }
}

int fail_opening(const tool *program, const char *asked_by, int64_t opening, size_t openings)
{
    char name[24], last[24];
    vug_opening_letter(NULL, (size_t)opening, name, sizeof name);
    if (openings == 0)
        return fail_usage(program, "%s %s: the part has no opening", asked_by, name);
    vug_opening_letter(NULL, openings - 1, last, sizeof last);
    return fail_usage(program, "%s %s: the part has %zu opening%s, A%s%s (numbered from 0)",
        asked_by, name, openings, openings == 1 ? "" : "s", openings == 1 ? "" : " to ",
        openings == 1 ? "" : last);
}

enum { HELP = 1, VERSION, FIRST_OWN };

/* The table as getopt_long() wants it, or NULL. */
static struct option *long_options(const tool *program)
{
    struct option *list = calloc(program->option_count + 3, sizeof *list);
    for (size_t i = 0; i < program->option_count && list; i++)
        list[i] = (struct option){program->options[i].name + 2,
            program->options[i].kind == OPTION_FLAG ? no_argument : required_argument, NULL,
            FIRST_OWN + (int)i};
    if (list) {
        list[program->option_count] = (struct option){"help", no_argument, NULL, HELP};
        list[program->option_count + 1] = (struct option){"version", no_argument, NULL, VERSION};
    }
    return list;
}

static int read_option(const tool *program, const option *o, const char *text)
{
    if (o->kind != OPTION_FLAG)
        return read_value(program, o, text);
    *(bool *)o->target = true;
    return GO_ON;
}

/* All options by place, those that every program has last; NULL: there are no more. */
static const char *name_at(const tool *program, size_t place)
{
    static const char *const shared[] = {"--help", "--version"};
    const size_t own = program->option_count;
    return place < own    ? program->options[place].name
        : place - own < 2 ? shared[place - own]
                          : NULL;
}

/* A word that several options begin with: which they are. */
static int refuse_short(const tool *program, const char *word)
{
    const size_t length = strcspn(word, "=");
    char fitting[400] = "";
    size_t used = 0, count = 0, told = 0;
    for (size_t i = 0; name_at(program, i); i++)
        count += strncmp(name_at(program, i), word, length) == 0;
    for (size_t i = 0; name_at(program, i) && used < sizeof fitting; i++) {
        if (strncmp(name_at(program, i), word, length) != 0)
            continue;
        const char *before = told == 0 ? "" : told + 1 == count ? " and " : ", ";
        used += (size_t)snprintf(fitting + used, sizeof fitting - used, "%s%s", before,
            name_at(program, i));
        told++;
    }
    if (length < 3 || count < 2)
        return fail_usage(program, "unknown option '%s'", word);
    return fail_usage(program, "'%.*s' is short for %s: which?", (int)length, word, fitting);
}

/* What getopt_long() found wrong with the word before optind, or with the letter optopt. */
static int refuse(const tool *program, int found, const char *word)
{
    size_t own = (size_t)(optopt - FIRST_OWN);
    bool known = optopt >= FIRST_OWN && own < program->option_count;
    if (found == ':' && known)
        return fail_usage(program, "%s wants %s", program->options[own].name,
            program->options[own].value);
    if (optopt >= HELP && optopt < FIRST_OWN + (int)program->option_count)
        return fail_usage(program, "%.*s takes no value", (int)strcspn(word, "="), word);
    return refuse_short(program, word);
}

/* All options; what is left in argv from optind on are operands. */
static int read_options(const tool *program, int argc, char **argv, const struct option *list)
{
    opterr = 0;
    optind = 1;
    for (;;) {
        int word = optind, found = getopt_long(argc, argv, ":h", list, NULL);
        if (found == -1)
            return GO_ON;
        if (found == 'h' || found == HELP) {
            print_help(program);
            return DONE;
        }
        if (found == VERSION) {
            printf("%s (vug) %s\n", program->name, vug_version_string());
            return DONE;
        }
        if (found == ':' || found == '?')
            return refuse(program, found, argv[optind > word ? optind - 1 : word]);
        int code = read_option(program, &program->options[found - FIRST_OWN], optarg);
        if (code != GO_ON)
            return code;
    }
}

int options_read(const tool *program, int argc, char **argv, const char **operands)
{
    struct option *list = long_options(program);
    if (!list)
        return fail(program, "no memory");
    int code = read_options(program, argc, argv, list);
    free(list);
    if (code != GO_ON)
        return code;
    size_t count = 0;
    for (; optind < argc; optind++) {
        if (count == program->operand_count)
            return fail_usage(program, "one argument too many: '%s'", argv[optind]);
        operands[count++] = argv[optind];
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
