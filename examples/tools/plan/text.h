/* SPDX-License-Identifier: MIT
 * The plan in words. */
#ifndef TOOLS_PLAN_TEXT_H
#define TOOLS_PLAN_TEXT_H

#include "fill_plan.h"

/* DONE or FAILED. */
int plan_print(const tool *program, const fill_plan *plan);

#endif
