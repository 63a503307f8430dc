/* SPDX-License-Identifier: MIT
 * The plan as a picture. */
#ifndef TOOLS_PLAN_DRAW_H
#define TOOLS_PLAN_DRAW_H

#include "fill_plan.h"

/* Writes base.png and base.svg. DONE or FAILED. */
int plan_draw(const tool *program, const fill_plan *plan, const char *base);

#endif
