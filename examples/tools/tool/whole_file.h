/* SPDX-License-Identifier: MIT
 * Files that are written whole or not at all. */
#ifndef TOOLS_TOOL_WHOLE_FILE_H
#define TOOLS_TOOL_WHOLE_FILE_H

#include "tool.h"

#include <stdbool.h>
#include <stdio.h>

/* A file that shall be whole or untouched: write to the stream under the name *beside, then close
 * with good telling whether all went well: it gets its own name, or goes. A device or a pipe is
 * written directly. NULL, and DONE or FAILED, with messages. */
FILE *whole_open(const tool *program, const char *file, char **beside);
int whole_close(const tool *program, FILE *stream, const char *file, char *beside, bool good);

#endif
