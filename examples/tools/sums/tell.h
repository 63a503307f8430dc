/* SPDX-License-Identifier: MIT
 * The answer to a question. */
#ifndef TOOLS_SUMS_TELL_H
#define TOOLS_SUMS_TELL_H

#include "ask.h"

/* Answers and prints. DONE or an exit code. */
int answer(vug_context *ctx, const question *q, const given *g);

#endif
