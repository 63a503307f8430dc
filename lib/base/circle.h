/* SPDX-License-Identifier: MIT
 * Circles through points. */
#ifndef VUGI_BASE_CIRCLE_H
#define VUGI_BASE_CIRCLE_H

#include <stdbool.h>
#include <stddef.h>

/* The middle of the circle nearest to points x, y: least squares of x2 + y2 - 2 a x - 2 b y - c (Kasa 1976, IEEE Trans.
 * Instrum. Meas. 25:8-14), about their mean. use: which of them; NULL: all. false: they are too few, or on a line. */
bool vugi_circle_fit(const double *xy, const bool *use, size_t count, double center[2]);

#endif
