/* SPDX-License-Identifier: MIT
 * The plan as JSON. */
#ifndef TOOLS_PLAN_JSON_H
#define TOOLS_PLAN_JSON_H

#include "fill_plan.h"

#include <jansson.h>

json_t *plan_json(const fill_plan *plan);

#endif
