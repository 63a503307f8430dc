/* SPDX-License-Identifier: MIT
 * How to fill it, and what stays. */
#ifndef VUGI_PLAN_TEXT_FILL_H
#define VUGI_PLAN_TEXT_FILL_H

#include "plan/text/writing.h"

void vugi_write_fill(vugi_writing *w);

#endif
