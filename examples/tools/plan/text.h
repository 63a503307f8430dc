/* SPDX-License-Identifier: MIT
 * The plan in words. */
#ifndef TOOLS_PLAN_TEXT_H
#define TOOLS_PLAN_TEXT_H

#include "fill_plan.h"

void plan_print(const fill_plan *plan);

#endif
