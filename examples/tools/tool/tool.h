/* SPDX-License-Identifier: MIT
 * A program as the others see it: its name, its operands, its options, its exit codes. */
#ifndef TOOLS_TOOL_TOOL_H
#define TOOLS_TOOL_TOOL_H

#include <stddef.h>

/* Exit codes. options_read() also returns GO_ON. */
enum { DONE = 0, FAILED = 1, USAGE = 2, GO_ON = -1 };

/* Pools, pockets and spots of less, in mm3, are nothing that a syringe measures. */
#define LEAST_MM3 50.0

enum option_kind {
    OPTION_FLAG,    /* bool: set to true */
    OPTION_NUMBER,  /* double within lo..hi */
    OPTION_WHOLE,   /* int64_t within lo..hi */
    OPTION_TEXT,    /* const char *, never empty */
    OPTION_ROW,     /* double[row]: comma-separated */
    OPTION_ROWS,    /* number_rows: a row each time the option is given */
    OPTION_UP,      /* double[3]: comma-separated, or a pose in words; never 0,0,0 */
    OPTION_OPENING, /* int64_t: a letter, or a number from 0 */
    OPTION_OPENINGS /* number_rows of width 1: an opening each time the option is given */
};

typedef struct tool_option {
    const char *name;  /* such as "--wall" */
    const char *value; /* placeholder in the help, NULL for a flag */
    const char *help;
    enum option_kind kind;
    void *target;
    double lo, hi; /* of OPTION_NUMBER and OPTION_WHOLE */
    size_t row;    /* numbers in an OPTION_ROW */
} option;

typedef struct tool {
    const char *name;
    const char *operands; /* such as "MESH"; "" for none */
    size_t operand_count; /* exactly as many are needed */
    const char *about;    /* one paragraph */
    const char *notes;    /* after the options, or NULL */
    const option *options;
    size_t option_count;
} tool;

#endif
