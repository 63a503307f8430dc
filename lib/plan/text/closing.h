/* SPDX-License-Identifier: MIT
 * Other ways to do it, and what to watch out for. */
#ifndef VUGI_PLAN_TEXT_CLOSING_H
#define VUGI_PLAN_TEXT_CLOSING_H

#include "plan/text/writing.h"

void vugi_write_others(vugi_writing *w);
void vugi_write_cautions(vugi_writing *w);

#endif
