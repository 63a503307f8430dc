/* SPDX-License-Identifier: MIT
 * Ceilings lowered so that air finds its way out along them. */
#ifndef VUGI_HOLLOW_LOWER_H
#define VUGI_HOLLOW_LOWER_H

#include "shape/hollow/uprights.h"

typedef struct vugi_lowering {
    double slope; /* rise of a ceiling towards the outlet, for each mm across */
    double clear; /* no way is made lower than this, mm */
} vugi_lowering;

/* How far liquid comes in each span (level), and by which span its air leaves (parent). how NULL: with the ceilings as
 * they are (hi). Else ceilings are lowered first: along the way to the outlet each rises by slope, where the spans'
 * bounds let it; what would hold air above that is taken out, or, if some of it has to stay, left as it is.
 * Source: Priority-Flood upside down (Barnes, Lehman, Mulla 2014), each step across costing its slope. */
vug_status vugi_lower(vugi_uprights *u, const vugi_lowering *how);

/* Level and way out once more, with the ceilings as they were made. */
vug_status vugi_lower_check(vugi_uprights *u);

#endif
