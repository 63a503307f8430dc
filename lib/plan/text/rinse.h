/* SPDX-License-Identifier: MIT
 * How to rinse it, and let it run out. */
#ifndef VUGI_PLAN_TEXT_RINSE_H
#define VUGI_PLAN_TEXT_RINSE_H

#include "plan/text/writing.h"

void vugi_write_rinse(vugi_writing *w);

#endif
