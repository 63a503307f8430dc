/* SPDX-License-Identifier: MIT
 * Needles by gauge and syringes by size. */
#ifndef VUGI_FLOW_NEEDLE_H
#define VUGI_FLOW_NEEDLE_H

#include "base/base.h"

/* ISO 7886-1: error allowed when expelled_ml leave, and what may stay inside. */
double vugi_syringe_tolerance(double capacity_ml, double expelled_ml);
double vugi_syringe_dead_space(double capacity_ml);

#endif
