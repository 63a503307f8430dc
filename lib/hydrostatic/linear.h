/* SPDX-License-Identifier: MIT
 * Small dense systems of equations. */
#ifndef VUGI_HYDROSTATIC_LINEAR_H
#define VUGI_HYDROSTATIC_LINEAR_H

#include "base/base.h"

#include <stdbool.h>
#include <stddef.h>

/* Gauss with the largest of each column as pivot: the answer takes the place of x, m is used up. false: a pivot
 * is 0, or what comes out is no number: there is no one answer, and x is none. */
bool vugi_eliminate(double *m, double *x, size_t n);

#endif
