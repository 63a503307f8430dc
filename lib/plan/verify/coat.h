/* SPDX-License-Identifier: MIT
 * A coat instead of a core: a little paint is swirled around, and the rest runs out again. */
#ifndef VUGI_PLAN_VERIFY_COAT_H
#define VUGI_PLAN_VERIFY_COAT_H

#include "plan/planning.h"

/* Once the alternatives are proved, for the part as it is: into the plan, and into all of them. */
vug_status vugi_plan_coat(vugi_planning *p);

#endif
