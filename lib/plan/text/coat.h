/* SPDX-License-Identifier: MIT
 * A coat instead of a core. */
#ifndef VUGI_PLAN_TEXT_COAT_H
#define VUGI_PLAN_TEXT_COAT_H

#include "plan/text/writing.h"

/* If a swirl of a little paint makes one; else nothing. */
void vugi_write_coat(vugi_writing *w);

#endif
