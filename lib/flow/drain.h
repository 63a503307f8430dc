/* SPDX-License-Identifier: MIT
 * Time to drain through a hole in the wall: the integral of area / flow over the head. */
#ifndef VUGI_FLOW_DRAIN_H
#define VUGI_FLOW_DRAIN_H

#include "flow/hole.h"

/* Seconds for the head (m) to fall from hi to lo while the area (m2) goes linearly from area_hi to
 * area_lo. The caller has made sure that lo is above the head at which the hole stops. */
double vugi_drain_seconds(const vugi_orifice *hole, double lo, double area_lo, double hi,
    double area_hi);

#endif
