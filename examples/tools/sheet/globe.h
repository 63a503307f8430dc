/* SPDX-License-Identifier: MIT
 * Which pose keeps how much air: a map of all of them. */
#ifndef TOOLS_SHEET_GLOBE_H
#define TOOLS_SHEET_GLOBE_H

#include "../plan/fill_plan.h"

/* Writes a PNG. DONE, or an exit code after a message. */
int plan_globe(const tool *program, const fill_plan *plan, const char *file);

#endif
