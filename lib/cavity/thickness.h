/* SPDX-License-Identifier: MIT
 * Wall thickness: samples on the skin. */
#ifndef VUGI_CAVITY_THICKNESS_H
#define VUGI_CAVITY_THICKNESS_H

#include "cavity/thickness_types.h"

/* Diameter of the largest ball inside that touches the skin at point. */
double vugi_thickness_of(const vugi_tree *tree, const double point[3], const double inward[3]);

/* A thickness, and the area of skin that has it. */
typedef struct vugi_thick {
    double mm, area;
} vugi_thick;

/* Of a list that is not empty, sorted by vugi_by_number(): what the given part of the area is thinner than. */
double vugi_thick_percentile(const vugi_thick *sorted, size_t count, double area, double part);

#endif
