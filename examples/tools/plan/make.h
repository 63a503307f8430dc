/* SPDX-License-Identifier: MIT
 * The plan is worked out. */
#ifndef TOOLS_PLAN_MAKE_H
#define TOOLS_PLAN_MAKE_H

#include "fill_plan.h"

/* Works the plan out. Free with fill_plan_free() also after a failure. DONE, or an exit code after a
 * message. */
int plan_make(const tool *program, fill_plan *plan);

#endif
