/* SPDX-License-Identifier: MIT
 * Small dense systems of equations. */
#ifndef VUGI_HYDROSTATIC_LINEAR_H
#define VUGI_HYDROSTATIC_LINEAR_H

#include "base/base.h"

#include <stddef.h>

/* Gauss with the largest of each column as pivot: the answer takes the place of x, m is used up. A column
 * of nothing leaves its unknown at 0. */
void vugi_eliminate(double *m, double *x, size_t n);

#endif
