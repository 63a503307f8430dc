/* SPDX-License-Identifier: MIT
 * Where to drill. */
#ifndef VUGI_PLAN_TEXT_BORES_H
#define VUGI_PLAN_TEXT_BORES_H

#include "plan/text/writing.h"

void vugi_write_bores(vugi_writing *w);

#endif
