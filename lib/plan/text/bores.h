/* SPDX-License-Identifier: MIT
 * Holes that belong into the model, and where to drill. */
#ifndef VUGI_PLAN_TEXT_BORES_H
#define VUGI_PLAN_TEXT_BORES_H

#include "plan/text/writing.h"

/* New holes of a part that is to be printed yet; else nothing. */
void vugi_write_model(vugi_writing *w);

/* Those to drill in the cured part, or that there are none. */
void vugi_write_bores(vugi_writing *w);

#endif
