/* SPDX-License-Identifier: MIT
 * One root finder for every inverse. */
#ifndef VUGI_FLOW_ROOT_H
#define VUGI_FLOW_ROOT_H

#include "base/base.h"

/* ln x where f(user, ln x) = 0 for a rising f, started from guess (in ln x). Bracketed, so it ends.
 * NaN if f does not change sign for x in 1e-300..1e300. */
double vugi_root(double (*f)(const void *user, double ln_x), const void *user, double guess);

#endif
