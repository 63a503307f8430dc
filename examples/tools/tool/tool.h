/* SPDX-License-Identifier: MIT
 * Shared by the example programs: arguments and --help from one table, errors, JSON. */
#ifndef EXAMPLE_COMMON_H
#define EXAMPLE_COMMON_H

#include "vug.h"

#include <jansson.h>
#include <stdbool.h>
#include <stdio.h>

/* Exit codes. options_read() also returns GO_ON. */
enum { DONE = 0, FAILED = 1, USAGE = 2, GO_ON = -1 };

#if defined(__GNUC__)
#define EXAMPLE_PRINTF(fmt, args) __attribute__((format(printf, fmt, args)))
#else
#define EXAMPLE_PRINTF(fmt, args)
#endif

enum option_kind {
    OPTION_FLAG,   /* bool: set to true */
    OPTION_NUMBER, /* double within lo..hi */
    OPTION_WHOLE,  /* int64_t within lo..hi */
    OPTION_TEXT,   /* const char *, never empty */
    OPTION_ROW,    /* double[row]: comma-separated */
    OPTION_ROWS    /* number_rows: a row each time the option is given */
};

/* Rows of `width` numbers, gathered by OPTION_ROWS; free(rows.number). */
typedef struct number_rows {
    size_t width;
    size_t count;
    double *number;
} number_rows;

typedef struct option {
    const char *name;  /* such as "--wall" */
    const char *value; /* placeholder in the help, NULL for a flag */
    const char *help;
    enum option_kind kind;
    void *target;
    double lo, hi; /* of OPTION_NUMBER and OPTION_WHOLE */
    size_t row;    /* numbers in an OPTION_ROW */
} option;

typedef struct example {
    const char *name;
    const char *operands; /* such as "MESH"; "" for none */
    size_t operand_count; /* exactly as many are needed */
    const char *about;    /* one paragraph */
    const char *notes;    /* after the options, or NULL */
    const option *options;
    size_t option_count;
} example;

/* Reads the arguments into the options' targets and operands[operand_count]. GO_ON, or the exit
 * code to leave with: DONE after --help or --version, USAGE after a message on stderr. */
int options_read(const example *program, int argc, char **argv, const char **operands);

/* Prints "name: message" on stderr and returns FAILED, for `return fail(...)`. */
int fail(const example *program, const char *format, ...) EXAMPLE_PRINTF(2, 3);

/* The same for wrong arguments: adds where to find help and returns USAGE. */
int fail_usage(const example *program, const char *format, ...) EXAMPLE_PRINTF(2, 3);

/* The message of a failed library call. USAGE if the arguments were at fault, else FAILED. */
int fail_status(const example *program, const vug_context *ctx, vug_status status);

/* Warnings of ctx, one a line on stderr. */
void print_warnings(const example *program, const vug_context *ctx);

/* Exactly count comma-separated finite numbers. */
bool parse_numbers(const char *text, double *number, size_t count);

/* The file's name without folders, cut to fit and fit to print: for titles. */
void short_name(const char *file, char name[64]);

/* Three numbers as an array, for points and directions. */
json_t *json_triple(const double v[3]);

/* A file that shall be whole or untouched: write to the stream under the name *beside, then close
 * with good telling whether all went well: it gets its own name, or goes. A device or a pipe is
 * written directly. NULL, and DONE or FAILED, with messages. */
FILE *whole_open(const example *program, const char *file, char **beside);
int whole_close(const example *program, FILE *stream, const char *file, char *beside, bool good);

/* Writes root to a file (whole or not at all) or, for "-", to stdout, and lets go of it. root may
 * be NULL: no memory. DONE or FAILED. */
int json_write(const example *program, json_t *root, const char *file);

#endif
