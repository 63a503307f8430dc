/* SPDX-License-Identifier: MIT
 * Does a liquid run out of a pose by itself, air coming in for it? */
#ifndef VUGI_DRAIN_BREAKOUT_H
#define VUGI_DRAIN_BREAKOUT_H

#include "cavity/cavity.h"

/* Whether liquid runs out of a cavity in a pose by itself: by an opening wide enough for air and liquid to pass each
 * other, or by two at different heights. closed: of each opening. */
bool vugi_breaks_out(const vug_fluid *liquid, const vug_cavities *cavities, const bool *closed,
    size_t cavity, const double up[3]);

#endif
