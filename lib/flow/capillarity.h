/* SPDX-License-Identifier: MIT
 * Menisci: rise, holding pressure, and the hole through which air and liquid trade places. */
#ifndef VUGI_FLOW_CAPILLARITY_H
#define VUGI_FLOW_CAPILLARITY_H

#include "base/base.h"

/* Critical radius / capillary length of a meniscus free to slide, and pinned. */
double vugi_exchange_free(double contact_angle_deg);
extern const double vugi_exchange_pinned;

double vugi_capillary_length(const vug_fluid *fluid); /* m */

#endif
