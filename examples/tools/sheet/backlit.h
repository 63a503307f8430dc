/* SPDX-License-Identifier: MIT
 * The planned part against the light. */
#ifndef TOOLS_SHEET_BACKLIT_H
#define TOOLS_SHEET_BACKLIT_H

#include "../plan/fill_plan.h"

/* BASE-empty.png, BASE-half.png (in the first pose of the fill) and BASE-full.png. */
int plan_backlit(const tool *program, const fill_plan *plan, const char *base);

#endif
