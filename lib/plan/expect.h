/* SPDX-License-Identifier: MIT
 * How much memory a plan will take. */
#ifndef VUGI_PLAN_EXPECT_H
#define VUGI_PLAN_EXPECT_H

#include "plan/planning.h"

/* VUG_ERR_MEMORY, with how much, where the context's limit lets less. For a part that has been read. */
vug_status vugi_plan_expect_memory(const vugi_planning *p);

#endif
