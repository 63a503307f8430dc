/* SPDX-License-Identifier: MIT
 * Wall thickness: samples on the skin. */
#ifndef VUGI_CAVITY_THICKNESS_H
#define VUGI_CAVITY_THICKNESS_H

#include "cavity/thickness_types.h"

/* Diameter of the largest ball inside that touches the skin at point. */
double vugi_thickness_of(const vugi_tree *tree, const double point[3], const double inward[3]);

#endif
