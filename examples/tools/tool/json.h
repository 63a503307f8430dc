/* SPDX-License-Identifier: MIT
 * Results as JSON. */
#ifndef TOOLS_TOOL_JSON_H
#define TOOLS_TOOL_JSON_H

#include "tool.h"

#include <jansson.h>

/* Three numbers as an array, for points and directions. */
json_t *json_triple(const double v[3]);

/* Writes root to a file (whole or not at all) or, for "-", to stdout, and lets go of it. root may
 * be NULL: no memory. DONE or FAILED. */
int json_write(const tool *program, json_t *root, const char *file);

#endif
