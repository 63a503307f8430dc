/* SPDX-License-Identifier: MIT
 * Does a liquid run out of a pose by itself, air coming in for it? */
#ifndef VUGI_DRAIN_BREAKOUT_H
#define VUGI_DRAIN_BREAKOUT_H

#include "cavity/cavity.h"

/* How much higher one of two openings of these diameters has to be than the other, mm, for air to come in by it while liquid
 * leaves by the other. INFINITY: nobody knows. */
double vugi_breakout_head(const vug_fluid *liquid, double a_mm, double b_mm);

/* Whether liquid runs out of a cavity in a pose by itself: by an opening wide enough for air and liquid to pass each
 * other, or by two at different heights. closed: of each opening. */
bool vugi_breaks_out(const vug_fluid *liquid, const vug_cavities *cavities, const bool *closed,
    size_t cavity, const double up[3]);

#endif
