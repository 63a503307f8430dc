/* SPDX-License-Identifier: MIT
 * Questions at the bench: filling, draining, rinsing, sealing. */
#ifndef TOOLS_SUMS_BENCH_H
#define TOOLS_SUMS_BENCH_H

#include "question.h"

#include <stddef.h>

extern const question bench_questions[];
extern const size_t bench_question_count;

#endif
