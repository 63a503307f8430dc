/* SPDX-License-Identifier: MIT
 * An opening of a bore that is planned. */
#ifndef VUGI_CAVITY_PLANNED_H
#define VUGI_CAVITY_PLANNED_H

#include "cavity/cavity.h"

#include "column/column.h"

/* Plans a bore from the skin to the first of the cavities behind it. *found; then opening and bore
 * are filled, with the rim and the mouth that it will have. volume: what it adds to the cavity, and how
 * far that may be off. */
vug_status vugi_hole_plan(vug_context *ctx, const vug_cavities *cavities, const vugi_hole *hole,
    vugi_opening *opening, vugi_bore *bore, double volume[2], bool *found);

#endif
