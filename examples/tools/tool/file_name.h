/* SPDX-License-Identifier: MIT
 * A file's name for titles. */
#ifndef TOOLS_TOOL_FILE_NAME_H
#define TOOLS_TOOL_FILE_NAME_H

/* The file's name without folders, cut to fit and fit to print: for titles. */
void short_name(const char *file, char name[64]);

#endif
