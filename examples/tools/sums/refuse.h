/* SPDX-License-Identifier: MIT
 * What the library refused, told in the options of a question and their units. */
#ifndef TOOLS_SUMS_REFUSE_H
#define TOOLS_SUMS_REFUSE_H

#include "question.h"

#include <stddef.h>

/* The message of the library, in the words of the question. */
void refuse_in_words(const question *q, const char *message, char *words, size_t size);

#endif
