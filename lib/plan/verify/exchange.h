/* SPDX-License-Identifier: MIT
 * Does a liquid run out of a pose by itself, air coming in for it? */
#ifndef VUGI_PLAN_VERIFY_EXCHANGE_H
#define VUGI_PLAN_VERIFY_EXCHANGE_H

#include "cavity/cavity.h"

/* Whether liquid runs out of each cavity in a pose by itself: by an opening wide enough for air and liquid
 * to pass each other, or by two at different heights. closed: of each opening. */
bool vugi_plan_exchanges(const vug_fluid *liquid, const vug_cavities *cavities, const bool *closed,
    const double up[3]);

#endif
