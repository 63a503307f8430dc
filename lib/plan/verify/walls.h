/* SPDX-License-Identifier: MIT
 * How thick the walls in front of the cavities are. */
#ifndef VUGI_PLAN_VERIFY_WALLS_H
#define VUGI_PLAN_VERIFY_WALLS_H

#include "plan/planning.h"

/* Of the skin of all cavities: *half, mm, less on half of its area; *thin, mm, less on a twentieth. */
vug_status vugi_walls_measure(vug_context *ctx, const vug_cavities *cavities, double *half,
    double *thin);

#endif
