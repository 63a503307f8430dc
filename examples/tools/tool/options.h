/* SPDX-License-Identifier: MIT
 * Arguments and --help from one table. */
#ifndef TOOLS_TOOL_OPTIONS_H
#define TOOLS_TOOL_OPTIONS_H

#include "tool.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Rows of `width` numbers, gathered by OPTION_ROWS; free(rows.number). */
typedef struct number_rows {
    size_t width;
    size_t count;
    double *number;
} number_rows;

/* Reads the arguments into the options' targets and operands[operand_count]. GO_ON, or the exit
 * code to leave with: DONE after --help or --version, USAGE after a message on stderr. */
int options_read(const tool *program, int argc, char **argv, const char **operands);

/* Copies a list of options to *to and returns what follows it. */
option *options_add(option *to, const option *list, size_t count);

/* Text broken at spaces into lines of at most 79 columns, from a column on, all but the first indented. */
void print_wrapped(const char *text, int column, int indent);

/* Exactly count comma-separated finite numbers. */
bool parse_numbers(const char *text, double *number, size_t count);

/* For an option that names an opening which the part has not: USAGE, with a message. */
int fail_opening(const tool *program, const char *asked_by, int64_t opening, size_t openings);

#endif
