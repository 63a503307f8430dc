/* SPDX-License-Identifier: MIT
 * Questions about curing, walls and paint. */
#ifndef TOOLS_SUMS_LIGHT_H
#define TOOLS_SUMS_LIGHT_H

#include "question.h"

#include <stddef.h>

extern const question light_questions[];
extern const size_t light_question_count;

#endif
