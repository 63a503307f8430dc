/* SPDX-License-Identifier: MIT
 * Numbers that come in and go out: nothing outside its range, nothing that is not finite. */
#ifndef VUGI_FLOW_NUMBERS_H
#define VUGI_FLOW_NUMBERS_H

#include "base/base.h"

typedef struct vugi_limit {
    const char *name;
    double value, lo, hi; /* both ends allowed */
} vugi_limit;

/* VUG_ERR_DOMAIN with call, name, value and limits for the first that is NaN or outside. */
vug_status vugi_check(vug_context *ctx, const char *call, const vugi_limit *limit, size_t count);

/* VUG_ERR_ARGUMENT if pointer (called name) is NULL. */
vug_status vugi_check_result(vug_context *ctx, const char *call, const char *name,
    const void *pointer);

/* *out = value if it is finite, else VUG_ERR_DOMAIN. */
vug_status vugi_give(vug_context *ctx, const char *call, double value, double *out);

/* One number in, one out: the body of a law. Checks all before it writes any. */
typedef double (*vugi_sum)(const void *user, double x);
vug_status vugi_each(vug_context *ctx, const char *call, vugi_limit limit, const double *x,
    size_t count, vugi_sum sum, const void *user, double *out);

#endif
