/* SPDX-License-Identifier: MIT
 * What is behind the skin once the plan's steps are done. */
#ifndef TOOLS_PLAN_SKIN_H
#define TOOLS_PLAN_SKIN_H

#include "fill_plan.h"
#include "../picture/drawing.h"

/* The walls of the cavities, what is behind each triangle, and the plan's own figures for the key. plan_skin_free(),
 * also after a failure. */
vug_status plan_skin(const fill_plan *plan, picture_skin *skin);
void plan_skin_free(picture_skin *skin);

#endif
