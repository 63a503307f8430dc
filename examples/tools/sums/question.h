/* SPDX-License-Identifier: MIT
 * sums: one question each, told as tables: what it asks, what it tells, and the sum. */
#ifndef SUMS_H
#define SUMS_H

#include "common.h"

#include <math.h>

enum { MOST_ASKED = 40, MOST_TOLD = 20 };

/* In place of a usual value. */
#define NEEDED NAN      /* it must be given */
#define ABSENT INFINITY /* it may be left out: the sum then sees NAN */

/* A number, or one of some words, that comes in by the option --name. */
typedef struct ask {
    const char *name; /* with the unit, such as "radius-mm" */
    const char *help;
    double usual;
    const char *const *words; /* NULL-ended: the value is the number of the word */
} ask;

/* A number, or one of some words, that goes out. NAN: nothing to tell. */
typedef struct tell {
    const char *name; /* in the JSON, with the unit */
    const char *help;
    const char *const *words;
    bool whole;
} tell;

typedef vug_status (
    *sum_fn)(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out);

typedef struct question {
    const char *name;
    const char *about;
    const ask *asks;
    size_t ask_count;
    const tell *tells;
    size_t tell_count;
    sum_fn sum;
    bool fluid;          /* asks for a liquid too */
    const char *caution; /* or NULL */
    size_t either[2];    /* asks of which exactly one is to be given; 0, 0: none */
} question;

extern const question flow_questions[];
extern const size_t flow_question_count;
extern const question bench_questions[];
extern const size_t bench_question_count;
extern const question light_questions[];
extern const size_t light_question_count;

/* ---- arguments and answers (sums_ask.c, sums_tell.c) ------------------------- */

/* Numbers that came in, each a range. fluid: 0 .. 5 are the VUG_PROPERTY_ constants. */
typedef struct given {
    double low[MOST_ASKED], typical[MOST_ASKED], high[MOST_ASKED];
    size_t count;     /* the question's own, then the liquid's six if it asks for one */
    const char *json; /* --json, or NULL */
} given;

const char *input_name(const question *q, size_t index);

/* The fluid of an input row of a question that asks for one. */
vug_fluid fluid_of(const question *q, const double *in);

/* GO_ON or an exit code. */
int read_given(const question *q, int argc, char **argv, given *g);

/* Answers and prints. An exit code. */
int answer(vug_context *ctx, const question *q, const given *g);

#endif
