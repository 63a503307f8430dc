/* SPDX-License-Identifier: MIT
 * Questions about flow. */
#ifndef TOOLS_SUMS_FLOW_H
#define TOOLS_SUMS_FLOW_H

#include "question.h"

#include <stddef.h>

extern const question flow_questions[];
extern const size_t flow_question_count;

#endif
