/* SPDX-License-Identifier: MIT
 * Numbers that come in and go out: nothing outside its range, nothing that is not finite. */
#include "flow/numbers.h"

#include "base/format.h"

#include <math.h>

static bool inside(const vugi_limit *limit, double value)
{
    return value >= limit->lo && value <= limit->hi; /* false for NaN */
}

vug_status vugi_check(vug_context *ctx, const char *call, const vugi_limit *limit, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!inside(&limit[i], limit[i].value))
            return vugi_fail(ctx, VUG_ERR_DOMAIN, "%s: %s is %g; it must lie within %g .. %g", call,
                limit[i].name, limit[i].value, limit[i].lo, limit[i].hi);
    return VUG_OK;
}

vug_status vugi_check_result(vug_context *ctx, const char *call, const char *name,
    const void *pointer)
{
    if (pointer)
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: %s is NULL", call, name);
}

vug_status vugi_give(vug_context *ctx, const char *call, double value, double *out)
{
    if (!isfinite(value))
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: the result is too large for a number; check the inputs' units", call);
    *out = value;
    return VUG_OK;
}

vug_status vugi_each(vug_context *ctx, const char *call, vugi_limit limit, const double *x,
    size_t count, vugi_sum sum, const void *user, double *out)
{
    if (count == 0)
        return VUG_OK;
    if (!x || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: an array is NULL", call);
    for (size_t i = 0; i < count; i++) {
        if (inside(&limit, x[i]) && isfinite(sum(user, x[i])))
            continue;
        char index[24] = "";
        if (count > 1)
            vugi_print(index, sizeof index, "[%zu]", i);
        if (!inside(&limit, x[i]))
            return vugi_fail(ctx, VUG_ERR_DOMAIN, "%s: %s%s is %g; it must lie within %g .. %g",
                call, limit.name, index, x[i], limit.lo, limit.hi);
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%s: %s%s is %g; the result is too large for a number; check the inputs' units", call,
            limit.name, index, x[i]);
    }
    for (size_t i = 0; i < count; i++)
        out[i] = sum(user, x[i]);
    return VUG_OK;
}
