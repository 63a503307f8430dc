/* SPDX-License-Identifier: MIT
 * What to expect of it, and how to light it. */
#ifndef VUGI_PLAN_TEXT_SHOW_H
#define VUGI_PLAN_TEXT_SHOW_H

#include "plan/text/writing.h"

void vugi_write_show(vugi_writing *w);

#endif
