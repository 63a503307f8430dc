/* SPDX-License-Identifier: MIT
 * The liquid of a fill. */
#ifndef VUGI_HYDROSTATIC_LIQUID_H
#define VUGI_HYDROSTATIC_LIQUID_H

#include "base/base.h"

/* The caller's fluid, checked; NULL: water. */
vug_status vugi_read_liquid(vug_context *ctx, const char *call, const vug_fluid *fluid,
    vug_fluid *own);

/* Pressure under so many mm of it, Pa. */
double vugi_head_pressure(const vug_fluid *fluid, double mm);

#endif
