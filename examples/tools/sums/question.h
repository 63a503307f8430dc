/* SPDX-License-Identifier: MIT
 * One question: what it asks, what it tells, and the sum. */
#ifndef TOOLS_SUMS_QUESTION_H
#define TOOLS_SUMS_QUESTION_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <vug.h>

enum { MOST_ASKED = 40, MOST_TOLD = 20 };

/* In place of a usual value. */
#define NEEDED NAN      /* it must be given */
#define ABSENT INFINITY /* it may be left out: the sum then sees NAN */

/* What a plastic syringe bears before it leaks or its needle comes off (from memory). */
#define SYRINGE_PA 2e6

/* The time of what never comes about by itself. */
#define NEVER_S 1e12

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

#endif
