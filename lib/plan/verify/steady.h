/* SPDX-License-Identifier: MIT
 * Steps for hands that are not exact. */
#ifndef VUGI_PLAN_VERIFY_STEADY_H
#define VUGI_PLAN_VERIFY_STEADY_H

#include "plan/verify/verification.h"

/* Where steps that come out within the limit as told often do not in such hands, the part is leant to all sides in the
 * last, and then the last two are done again, or a lone one, until they do or nothing more is allowed. Sets proving->sampled and seen. */
vug_status vugi_plan_steady(vugi_verification *proving);

#endif
