/* SPDX-License-Identifier: MIT
 * How to rinse it, and let it run out. */
#ifndef VUGI_PLAN_TEXT_RINSE_H
#define VUGI_PLAN_TEXT_RINSE_H

#include "plan/text/writing.h"

void vugi_write_rinse(vugi_writing *w);

/* So much rinsing liquid, mm3, as it is told. */
double vugi_rinse_amount(const vugi_writing *w);

/* Is raw resin drawn out by syringe? */
bool vugi_rinse_draws(const vugi_writing *w);

#endif
