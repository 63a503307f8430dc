/* SPDX-License-Identifier: MIT
 * What to have on the bench before beginning. */
#ifndef VUGI_PLAN_TEXT_READY_H
#define VUGI_PLAN_TEXT_READY_H

#include "plan/text/writing.h"

void vugi_write_ready(vugi_writing *w);

#endif
