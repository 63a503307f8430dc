/* SPDX-License-Identifier: MIT
 * How to dry and cure it. */
#ifndef VUGI_PLAN_TEXT_CURE_H
#define VUGI_PLAN_TEXT_CURE_H

#include "plan/text/writing.h"

void vugi_write_cure(vugi_writing *w);

#endif
