/* SPDX-License-Identifier: MIT
 * The part with its new holes in it, to print. */
#ifndef TOOLS_PLAN_WRITE_PART_H
#define TOOLS_PLAN_WRITE_PART_H

#include "fill_plan.h"

/* Cuts the holes that are in the plan but not in the mesh, and saves the part as the path's ending says. DONE or
 * FAILED. */
int plan_write_part(const tool *program, const fill_plan *plan, const char *path);

#endif
