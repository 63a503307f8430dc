/* SPDX-License-Identifier: MIT
 * A part that takes no paint in the pose and by the openings that it may have. */
#ifndef VUGI_PLAN_TEXT_UNFILLED_H
#define VUGI_PLAN_TEXT_UNFILLED_H

#include "plan/text/writing.h"

void vugi_write_unfilled(vugi_writing *w);

#endif
