/* SPDX-License-Identifier: MIT
 * How far a long call is, on a terminal. */
#ifndef TOOLS_TOOL_PROGRESS_H
#define TOOLS_TOOL_PROGRESS_H

#include "tool.h"

#include <vug.h>

/* A context for a program: what takes over a second tells on standard error how far it is, if that is a
 * terminal. DONE or FAILED. */
int context_open(const tool *program, vug_context **ctx);

/* Takes the line off the terminal, before anything else is written. */
void progress_clear(void);

#endif
