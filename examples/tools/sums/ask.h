/* SPDX-License-Identifier: MIT
 * The arguments of a question. */
#ifndef TOOLS_SUMS_ASK_H
#define TOOLS_SUMS_ASK_H

#include "question.h"

#include <stddef.h>

/* Numbers that came in, each a range. fluid: 0 .. 5 are the VUG_PROPERTY_ constants. */
typedef struct given {
    double low[MOST_ASKED], typical[MOST_ASKED], high[MOST_ASKED];
    size_t count;     /* the question's own, then the liquid's six if it asks for one */
    const char *json; /* --json, or NULL */
    char liquid[96];  /* what the liquid is, in words; empty for a question without one */
} given;

const char *input_name(const question *q, size_t index);

/* The fluid of an input row of a question that asks for one. */
vug_fluid fluid_of(const question *q, const double *in);

/* GO_ON or an exit code. */
int read_given(const question *q, int argc, char **argv, given *g);

#endif
