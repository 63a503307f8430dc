/* SPDX-License-Identifier: MIT
 * Liquid that leaves by a lone opening by turns with air. */
#ifndef VUGI_DRAIN_GLUG_H
#define VUGI_DRAIN_GLUG_H

#include "base/base.h"

/* mm3/s, glug by glug, as vug_exchange_flow(); 0 below the width at which the meniscus gives way. */
double vugi_glug(const vug_fluid *fluid, double diameter_mm);

#endif
