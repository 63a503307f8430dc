/* SPDX-License-Identifier: MIT
 * The fluid struct, and air. */
#ifndef VUGI_FLOW_FLUID_H
#define VUGI_FLOW_FLUID_H

#include "base/base.h"

/* Air at 20 C as a fluid, for what flows through an opening. */
const vug_fluid *vugi_air_fluid(void);
/* The caller's fluid (NULL: water) into *own, checked. */
vug_status vugi_fluid_read(vug_context *ctx, const char *call, const vug_fluid *fluid,
    vug_fluid *own);

#endif
